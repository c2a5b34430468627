import type { SectionResult } from '../../model/results.ts';
import { INK, LINE_COLOURS } from '../colours.ts';
import type { MapLimits } from './map-limits.ts';
import { outlinePlotGeometry } from './outline-plot-geometry.ts';
import { axisBelow, axisLeft, patternDefs, stepFill, stroke, svgDocument, textAt } from './parts.ts';
import { px } from './path.ts';

export interface OutlinePictureOptions {
  title: string;
  limits: MapLimits;
  width?: number;
  height?: number;
  prefix?: string;
}

/** Deviation along the outline of one section with limits and ±2u; '' without data. */
export function outlinePlotSvg(section: SectionResult, options: OutlinePictureOptions): string {
  const prefix = options.prefix ?? 'outline';
  const [width, height] = [options.width ?? 640, options.height ?? 190];
  const margin = { left: 58, top: 38, right: 14, bottom: 44 };
  const geometry = outlinePlotGeometry(section, { limitsAt: options.limits.at, width, height, margin });
  if (!geometry) return '';
  const { plot } = geometry;
  const [right, bottom] = [plot.x + plot.width, plot.y + plot.height];
  const gaps = geometry.gaps
    .map(([from, to]) => {
      const box = `<rect x="${px(from)}" y="${px(plot.y)}" width="${px(to - from)}" height="${px(plot.height)}" fill="url(#${prefix}-dots)"/>`;
      return `${box}${textAt((from + to) / 2, plot.y + 12, 'not measured', { anchor: 'middle', size: 9 })}`;
    })
    .join('');
  const body =
    patternDefs(prefix) +
    textAt(0, 14, options.title, { size: 12, bold: true }) +
    textAt(plot.x, 30, '◀ suction side', { size: 10 }) +
    textAt(geometry.leadingEdge, 30, 'leading edge', { size: 10, anchor: 'middle', bold: true }) +
    textAt(right, 30, 'pressure side ▶', { size: 10, anchor: 'end' }) +
    axisLeft(geometry.valueTicks, plot.x, right) +
    axisBelow(geometry.alongTicks, bottom) +
    gaps +
    geometry.fills.map(({ step, path }) => stepFill(step, path, prefix)).join('') +
    stroke(`M${px(plot.x)} ${px(geometry.zero)}H${px(right)}`, INK, 1) +
    stroke(`M${px(geometry.leadingEdge)} ${px(plot.y)}V${px(bottom)}`, INK, 0.8, '6 2 1 2') +
    stroke(geometry.lowerLimit, LINE_COLOURS.third, 1.2, '5 3') +
    stroke(geometry.upperLimit, LINE_COLOURS.third, 1.2, '5 3') +
    `<path d="${geometry.uncertainty}" fill="${INK}" fill-opacity="0.22"/>` +
    stroke(geometry.line, INK, 1.3) +
    textAt(14, plot.y + plot.height / 2, 'deviation mm', { anchor: 'middle', size: 10, turn: 90 }) +
    textAt(right, bottom + 32, 'mm along the outline · grey band ±U (k = 2) · dashed: limits', {
      anchor: 'end',
      size: 10,
    });
  return svgDocument(
    { width, height, title: options.title, description: 'Deviation along the outline with limits and uncertainty.' },
    body,
  );
}
