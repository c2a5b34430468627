import { tickStep, ticks } from 'd3-array';
import { formatFixed } from '../format-number.ts';

/** A mark of an axis: place in the picture (px), value, and text with just enough decimals. */
export interface Tick {
  at: number;
  value: number;
  text: string;
}

/** A linear scale and its inverse as plain functions. */
export interface Scale {
  (value: number): number;
  invert(at: number): number;
}

/** Scale from values `domain` to picture places `range` (px). */
export function linearScale(domain: readonly [number, number], range: readonly [number, number]): Scale {
  const width = domain[1] - domain[0] || 1;
  const slope = (range[1] - range[0]) / width;
  const scale = ((value: number) => range[0] + (value - domain[0]) * slope) as Scale;
  scale.invert = (at: number) => domain[0] + (at - range[0]) / slope;
  return scale;
}

/** About `count` marks at round values within the domain. */
export function axisTicks(domain: readonly [number, number], scale: Scale, count: number): Tick[] {
  const [low, high] = [Math.min(...domain), Math.max(...domain)];
  const step = tickStep(low, high, count);
  const decimals = Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
  return ticks(low, high, count).map((value) => ({
    at: scale(value),
    value,
    text: formatFixed(value, Number.isFinite(decimals) ? decimals : 0),
  }));
}

/** The largest of 1, 2, 5 × 10ⁿ that does not exceed a length. */
export function roundLength(length: number): number {
  if (!(length > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(length) + 1e-12);
  const lead = length / power;
  return (lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power;
}

/** A bar of round length (mm) and its two ends in the picture (px). */
export interface ScaleBar {
  length: number;
  x1: number;
  x2: number;
  y: number;
  text: string;
}

/**
 * A scale bar ending at most `room` px to the right of `x`.
 * @param pxPerMm picture scale
 */
export function scaleBar(pxPerMm: number, room: number, x: number, y: number): ScaleBar {
  const length = roundLength(room / pxPerMm);
  return { length, x1: x, x2: x + length * pxPerMm, y, text: `${Number(length.toPrecision(3))} mm` };
}

/** Domain grown by a share on both sides; a domain of no width is given one. */
export function padDomain(low: number, high: number, share = 0.06): [number, number] {
  if (!(low <= high)) return [0, 1];
  const width = high - low || Math.max(Math.abs(high), 1) * 0.1;
  return [low - width * share, high + width * share];
}
