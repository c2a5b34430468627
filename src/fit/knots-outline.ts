import { lowerBound } from '../math/lower-bound.ts';
import type { Bends } from './node-bends.ts';
import { arcLengthAt, type OutlineArc } from './outline-arc.ts';

/** Most spans of a stretch between corners. */
const MOST_SPANS = 600;

/** Lengths over which the outline's shape changes, tabulated at equal steps of arc length. */
export interface FeatureSize {
  step: number;
  perimeter: number;
  /** Upper limit of the feature size (mm). */
  largest: number;
  /** Feature size at i · step (mm). */
  size: Float64Array;
}

/**
 * Returns the local feature size: `turn` radians of the curvature radius, within `least` … `largest`, growing no faster than
 * `slope` per mm of arc away from any place, so that both sides of a bend are resolved.
 * @param bends curvature along a first outline
 * @param jumps arc lengths at which the curvature is known to jump; no growth is held back across them
 */
export function featureSize(
  bends: Bends,
  turn: number,
  least: number,
  largest: number,
  slope: number,
  jumps: readonly number[] = [],
): FeatureSize {
  const { length, curvature } = bends;
  const perimeter = length[length.length - 1];
  const wanted = curvature.map((k) => Math.min(largest, Math.max(least, turn / Math.max(k, 1e-12))));
  let finest = largest;
  for (const size of wanted) finest = Math.min(finest, size);
  const cells = Math.min(8192, Math.max(256, Math.ceil((2 * perimeter) / finest)));
  const step = perimeter / cells;
  const size = new Float64Array(cells).fill(largest);
  for (let i = 0; i < wanted.length; i++) {
    const to = Math.min(cells - 1, Math.floor(length[i + 1] / step));
    for (let c = Math.floor(length[i] / step); c <= to; c++) size[c] = Math.min(size[c], wanted[i]);
  }
  grade(size, slope * step, jumpCells(jumps, step, cells));
  return { step, perimeter, largest, size };
}

/** Cells in which the curvature jumps: the size on one side says nothing of the other. */
function jumpCells(jumps: readonly number[], step: number, cells: number): Uint8Array {
  const marked = new Uint8Array(cells);
  for (const at of jumps) marked[((Math.floor(at / step) % cells) + cells) % cells] = 1;
  return marked;
}

/** Limits the growth of the closed list to `rise` a step, both ways; it starts anew at the marked cells. */
function grade(size: Float64Array, rise: number, jumps?: Uint8Array): void {
  const cells = size.length;
  const limit = (from: number, to: number) => {
    if (jumps && jumps[from] === 1) return;
    if (size[to] > size[from] + rise) size[to] = size[from] + rise;
  };
  for (let i = 0; i < 2 * cells; i++) limit(i % cells, (i + 1) % cells);
  for (let i = 2 * cells; i > 0; i--) limit(i % cells, (i - 1) % cells);
}

/** Returns the feature size no larger than half a stretch within each of the given stretches of arc length. */
export function narrowed(feature: FeatureSize, stretches: readonly [number, number][], slope: number): FeatureSize {
  const size = feature.size.slice();
  const cells = size.length;
  for (const [from, to] of stretches) {
    for (let c = Math.floor(from / feature.step); c <= Math.floor(to / feature.step); c++) {
      size[c % cells] = Math.min(size[c % cells], 0.5 * (to - from));
    }
  }
  grade(size, slope * feature.step);
  return { ...feature, size };
}

/** Returns the feature size (mm) at an arc length. */
export function featureAt(feature: FeatureSize, s: number): number {
  const cells = feature.size.length;
  return feature.size[((Math.floor(s / feature.step) % cells) + cells) % cells];
}

/**
 * Raises the feature size where points are too far apart to hold that many spans: at least `points` points a span.
 * @param at arc lengths of the points, in order round the outline
 */
export function limitToPoints(feature: FeatureSize, at: Float64Array, points: number): void {
  const n = at.length;
  const { perimeter, step, size } = feature;
  for (let i = 0; i < n; i++) {
    const apart = at[i + 2 < n ? i + 2 : i + 2 - n] - at[i < 2 ? i - 2 + n : i - 2];
    const spacing = Math.abs(apart - perimeter * Math.round(apart / perimeter)) / 4;
    const cell = Math.min(size.length - 1, Math.max(0, Math.floor(at[i] / step)));
    if (size[cell] < spacing * points) size[cell] = spacing * points;
  }
}

/** A knot that stays: three copies at a corner, two where the curvature jumps, four where the spline itself may. */
export interface FixedKnot {
  /** Arc length (mm). */
  at: number;
  copies: 2 | 3 | 4;
}

/**
 * Returns closed knots: between fixed ones spans as long as the feature size.
 * @param fixed rising
 * @param fewest least number of spans of an outline without fixed knots
 */
export function featureKnots(feature: FeatureSize, fixed: readonly FixedKnot[], fewest: number): Float64Array {
  const { perimeter } = feature;
  const starts = fixed.length > 0 ? fixed : [{ at: 0, copies: 1 }];
  const knots: number[] = [];
  starts.forEach(({ at, copies }, c) => {
    const end = c + 1 < starts.length ? starts[c + 1].at : starts[0].at + perimeter;
    for (let copy = copies; copy > 0; copy--) knots.push(at);
    for (const knot of stretchKnots(feature, at, end, fixed.length > 0 ? 1 : fewest)) knots.push(knot);
  });
  return Float64Array.from(knots);
}

function stretchKnots(feature: FeatureSize, start: number, end: number, fewest: number): number[] {
  const steps = Math.max(16, Math.round((2 * (end - start)) / feature.step));
  const h = (end - start) / steps;
  const density = new Float64Array(steps + 1);
  for (let i = 0; i < steps; i++) density[i + 1] = density[i] + h / featureAt(feature, start + (i + 0.5) * h);
  const spans = Math.min(MOST_SPANS, Math.max(fewest, Math.round(density[steps])));
  const inner: number[] = [];
  let i = 0;
  for (let k = 1; k < spans; k++) {
    const wanted = (k / spans) * density[steps];
    while (density[i + 1] < wanted) i++;
    inner.push(start + (i + (wanted - density[i]) / (density[i + 1] - density[i])) * h);
  }
  return inner;
}

/** Returns arc lengths of many parameters (each within the period). */
export function arcLengths(arc: OutlineArc, parameters: Float64Array): Float64Array {
  return parameters.map((t) => arcLengthAt(arc, t));
}

/**
 * Returns knots thinned until every span holds at least `points` points (the Schoenberg-Whitney condition, with room),
 * as long as no span grows beyond `longest`. Fixed knots stay.
 * @param at parameters of the points, within the period from the first knot
 * @param fixed parameters of the fixed knots
 */
export function populatedKnots(
  knots: Float64Array,
  period: number,
  at: Float64Array,
  fixed: readonly number[],
  points: number,
  longest: number,
): Float64Array {
  const sorted = at.slice().sort();
  const held = (from: number, to: number) => lowerBound(sorted, to) - lowerBound(sorted, from);
  const end = knots[0] + period;
  const staying = new Set([knots[0], end, ...fixed]);
  const kept: number[] = [];
  for (let k = 0; k <= knots.length; k++) {
    const knot = k < knots.length ? knots[k] : end;
    const last = kept[kept.length - 1];
    if (kept.length > 0 && knot > last && knot - last <= longest && held(last, knot) < points) {
      // A span too few joins the neighbour that holds fewer points, so that a dense edge keeps its own knots.
      const before = staying.has(last) ? Infinity : held(kept[kept.length - 2], last);
      const after = staying.has(knot) ? Infinity : held(knot, k + 1 < knots.length ? knots[k + 1] : end);
      if (after < before) continue;
      if (before < Infinity) kept.pop();
    }
    kept.push(knot);
  }
  kept.pop();
  return Float64Array.from(kept);
}
