import type { Verdict } from '../../model/results.ts';
import { INK, LINE_COLOURS, PAPER, rampOf, type Step } from '../colours.ts';
import type { ScaleBar, Tick } from './axis.ts';
import { escapeXml, px } from './path.ts';
import { VERDICT_WORDS, verdictShape } from './verdict-shape.ts';

export interface TextOptions {
  anchor?: 'start' | 'middle' | 'end';
  size?: number;
  bold?: boolean;
  colour?: string;
  /** Degrees, counter-clockwise positive. */
  turn?: number;
}

/** One text element at (x, y), its baseline there. */
export function textAt(x: number, y: number, text: string, options: TextOptions = {}): string {
  const { anchor = 'start', size = 11, bold = false, colour = INK, turn = 0 } = options;
  const rotate = turn === 0 ? '' : ` transform="rotate(${px(-turn)} ${px(x)} ${px(y)})"`;
  const weight = bold ? ' font-weight="600"' : '';
  return `<text x="${px(x)}" y="${px(y)}" font-size="${size}" text-anchor="${anchor}" fill="${colour}"${weight}${rotate}>${escapeXml(text)}</text>`;
}

/** One path without fill; '' for an empty path. */
export function stroke(path: string, colour: string, width: number, dash = ''): string {
  if (path === '') return '';
  const dashes = dash === '' ? '' : ` stroke-dasharray="${dash}"`;
  return `<path d="${path}" fill="none" stroke="${colour}" stroke-width="${width}" stroke-linejoin="round"${dashes}/>`;
}

/** Name of the stripe pattern of a step; null within limits. */
export function stripeId(step: Step, prefix: string): string | null {
  const { ink } = rampOf(step);
  return ink === null ? null : `${prefix}-${step < 0 ? 'less' : 'more'}-${ink === '#FFFFFF' ? 'light' : 'dark'}`;
}

/** Pattern definitions: stripes falling for less, rising for more, in both inks, and dots for what is not measured. */
export function patternDefs(prefix: string): string {
  const stripes = (sign: 'less' | 'more', ink: 'dark' | 'light') => {
    const lines = sign === 'less' ? 'M-1 -1L9 9M-1 7L1 9M7 -1L9 1' : 'M-1 9L9 -1M-1 1L1 -1M7 9L9 7';
    const colour = ink === 'dark' ? INK : '#FFFFFF';
    return `<pattern id="${prefix}-${sign}-${ink}" width="8" height="8" patternUnits="userSpaceOnUse"><path d="${lines}" stroke="${colour}" stroke-width="1" fill="none"/></pattern>`;
  };
  const dots = `<pattern id="${prefix}-dots" width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="1.5" cy="1.5" r="0.8" fill="${LINE_COLOURS.muted}"/><circle cx="4.5" cy="4.5" r="0.8" fill="${LINE_COLOURS.muted}"/></pattern>`;
  return `<defs>${stripes('less', 'dark')}${stripes('less', 'light')}${stripes('more', 'dark')}${stripes('more', 'light')}${dots}</defs>`;
}

/** A filled area of one step with its stripes. */
export function stepFill(step: Step, path: string, prefix: string): string {
  const stripes = stripeId(step, prefix);
  const colour = rampOf(step).colour;
  const base = `<path d="${path}" fill="${colour}" stroke="${colour}" stroke-width="0.4"/>`;
  return stripes === null ? base : `${base}<path d="${path}" fill="url(#${stripes})"/>`;
}

/** A verdict's shape about (x, y); `r` is half its height. */
export function verdictMark(verdict: Verdict, x: number, y: number, r: number): string {
  const shape = verdictShape(verdict, x, y, r);
  const dash = shape.dashed ? ' stroke-dasharray="2 1.5"' : '';
  const fill = shape.filled ? shape.tint : PAPER;
  const border = shape.border
    ? `<path d="${shape.border}" fill="${fill}" stroke="${shape.tint}" stroke-width="1.2"${dash}/>`
    : '';
  const sign = stroke(shape.sign, shape.filled ? PAPER : shape.tint, 1.4);
  return `<g><title>${VERDICT_WORDS[verdict]}</title>${border}${sign}</g>`;
}

/** Marks of a horizontal axis under `y`, with lines up to `top` when given. */
export function axisBelow(ticks: readonly Tick[], y: number, top?: number): string {
  return ticks
    .map(({ at, text }) => {
      const grid = top === undefined ? '' : stroke(`M${px(at)} ${px(y)}V${px(top)}`, LINE_COLOURS.grid, 0.6);
      return `${grid}${stroke(`M${px(at)} ${px(y)}v4`, INK, 0.8)}${textAt(at, y + 15, text, { anchor: 'middle', size: 10 })}`;
    })
    .join('');
}

/** Marks of an upright axis left of `x`, with lines to `right` when given. */
export function axisLeft(ticks: readonly Tick[], x: number, right?: number): string {
  return ticks
    .map(({ at, text }) => {
      const grid = right === undefined ? '' : stroke(`M${px(x)} ${px(at)}H${px(right)}`, LINE_COLOURS.grid, 0.6);
      return `${grid}${stroke(`M${px(x)} ${px(at)}h-4`, INK, 0.8)}${textAt(x - 6, at + 3.5, text, { anchor: 'end', size: 10 })}`;
    })
    .join('');
}

/** A scale bar with its length over it. */
export function barMark(bar: ScaleBar, anchor: 'start' | 'middle' | 'end' = 'start'): string {
  const path = `M${px(bar.x1)} ${px(bar.y - 4)}v8M${px(bar.x1)} ${px(bar.y)}H${px(bar.x2)}M${px(bar.x2)} ${px(bar.y - 4)}v8`;
  const label = { anchor, size: 10 };
  const at = anchor === 'start' ? bar.x1 : anchor === 'end' ? bar.x2 : (bar.x1 + bar.x2) / 2;
  return `${stroke(path, INK, 1.4)}${textAt(at, bar.y - 7, bar.text, label)}`;
}

export interface DocumentOptions {
  width: number;
  height: number;
  title: string;
  /** What the picture shows, in words. */
  description: string;
}

/** A self-contained SVG document on white paper with system fonts. */
export function svgDocument(options: DocumentOptions, body: string): string {
  const [w, h] = [px(options.width), px(options.height)];
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${w} ${h}" width="${w}" height="${h}" role="img" ` +
    `font-family="system-ui, 'Segoe UI', 'Liberation Sans', Arial, sans-serif" style="font-variant-numeric: tabular-nums">` +
    `<title>${escapeXml(options.title)}</title><desc>${escapeXml(options.description)}</desc>` +
    `<rect width="${w}" height="${h}" fill="${PAPER}"/>${body}</svg>`
  );
}
