import type { Outline } from '../model/outline.ts';
import { evaluatePiece, outlinePieces, spanAt } from './outline-pieces.ts';

/** Which one-sided value is wanted where the outline has a corner. */
export type CornerSide = 'before' | 'after';

/** Parameters this close to a knot (share of the period) are taken to be at it. */
const KNOT_TOLERANCE = 1e-12;

/** 8-point Gauss-Legendre rule on [−1, 1], positive half. */
const GAUSS_NODES = [0.1834346424956498, 0.525532409916329, 0.7966664774136267, 0.9602898564975363];
const GAUSS_WEIGHTS = [0.362683783378362, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763];

/** Returns `t` wrapped into one period, [first knot, first knot + period). */
export function wrapParameter(outline: Outline, t: number): number {
  const start = outline.knots[0];
  const wrapped = t - outline.period * Math.floor((t - start) / outline.period);
  return wrapped >= start + outline.period ? start : wrapped;
}

/**
 * Writes [x, y, x', y', x'', y'', x''', y'''] of the outline at `t` (derivatives by the parameter).
 * @param outline closed B-spline (mm)
 * @param t any real parameter; wrapped into the period
 * @param out at least 8 numbers
 * @param side which side of a corner (or of any knot) is meant; matters only there
 */
export function evaluateOutline(outline: Outline, t: number, out: Float64Array, side: CornerSide = 'after'): void {
  const pieces = outlinePieces(outline);
  const { breaks } = pieces;
  const wrapped = wrapParameter(outline, t);
  const near = KNOT_TOLERANCE * outline.period;
  let span = spanAt(breaks, wrapped);
  let h = wrapped - breaks[span];
  if (side === 'before' && h <= near) {
    span = span === 0 ? breaks.length - 2 : span - 1;
    h = breaks[span + 1] - breaks[span];
  } else if (side === 'after' && breaks[span + 1] - wrapped <= near) {
    span = span === breaks.length - 2 ? 0 : span + 1;
    h = 0;
  }
  evaluatePiece(pieces, span, h, out);
}

/** Returns the points x0, y0, x1, … (mm) of the outline at the given parameters. */
export function sampleOutline(outline: Outline, parameters: Float64Array): Float64Array {
  const points = new Float64Array(2 * parameters.length);
  const out = new Float64Array(8);
  for (let i = 0; i < parameters.length; i++) {
    evaluateOutline(outline, parameters[i], out);
    points[2 * i] = out[0];
    points[2 * i + 1] = out[1];
  }
  return points;
}

/** Returns the distinct knots of one period, rising, without the repeated end. */
export function outlineKnotSpans(outline: Outline): Float64Array {
  const { breaks } = outlinePieces(outline);
  return breaks.slice(0, breaks.length - 1);
}

/** Returns the signed curvature (1/mm) at `t`; positive where a counter-clockwise outline is convex. */
export function curvatureAt(outline: Outline, t: number, side: CornerSide = 'after'): number {
  evaluateOutline(outline, t, curvatureOut, side);
  return curvatureOf(curvatureOut);
}

const curvatureOut = new Float64Array(8);

/** Returns the signed curvature from the numbers that `evaluateOutline` writes. */
export function curvatureOf(out: Float64Array): number {
  const speed = Math.hypot(out[2], out[3]);
  return (out[2] * out[5] - out[3] * out[4]) / (speed * speed * speed);
}

/**
 * Returns the arc length (mm) along rising parameter from `from` to `to`; negative when `to` is below `from`. Turns
 * count: `to = from + period` gives the perimeter. 8-point Gauss rule a span.
 */
export function outlineLength(outline: Outline, from: number, to: number): number {
  if (to < from) return -outlineLength(outline, to, from);
  const pieces = outlinePieces(outline);
  const { breaks } = pieces;
  const spans = breaks.length - 1;
  let turn = from - wrapParameter(outline, from);
  let span = spanAt(breaks, from - turn);
  let at = from;
  let length = 0;
  while (at < to) {
    const end = Math.min(breaks[span + 1] + turn, to);
    if (end > at) {
      const start = breaks[span] + turn;
      length += pieceLength(pieces, span, at - start, end - start);
      at = end;
    }
    if (end === to) break;
    span++;
    if (span === spans) {
      span = 0;
      turn += outline.period;
    }
  }
  return length;
}

const lengthOut = new Float64Array(8);

function pieceLength(pieces: ReturnType<typeof outlinePieces>, span: number, h0: number, h1: number): number {
  const middle = 0.5 * (h0 + h1);
  const half = 0.5 * (h1 - h0);
  let sum = 0;
  for (let g = 0; g < 4; g++) {
    for (let sign = -1; sign <= 1; sign += 2) {
      evaluatePiece(pieces, span, middle + sign * half * GAUSS_NODES[g], lengthOut);
      sum += GAUSS_WEIGHTS[g] * Math.hypot(lengthOut[2], lengthOut[3]);
    }
  }
  return half * sum;
}

/** Returns the parameter reached after an arc length (mm, may be negative) from `from`; not wrapped. Newton's method. */
export function parameterAfter(outline: Outline, from: number, length: number): number {
  const perimeter = outlineLength(outline, from, from + outline.period);
  let t = from + (length / perimeter) * outline.period;
  const out = new Float64Array(8);
  for (let iteration = 0; iteration < 60; iteration++) {
    const missing = length - outlineLength(outline, from, t);
    evaluateOutline(outline, t, out);
    const speed = Math.hypot(out[2], out[3]);
    const step = missing / speed;
    t += Math.max(-0.25 * outline.period, Math.min(0.25 * outline.period, step));
    if (Math.abs(missing) <= 1e-13 * perimeter) break;
  }
  return t;
}
