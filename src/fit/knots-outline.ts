import { arcLengthAt, type OutlineArc } from './outline-arc.ts';

/** Lengths over which the outline's shape changes, tabulated at equal steps of arc length. */
export interface FeatureSize {
  step: number;
  perimeter: number;
  /** Feature size at i · step (mm). */
  size: Float64Array;
}

/**
 * Returns the local feature size: `turn` radians of the curvature radius, within `least` … `largest`, growing no faster than
 * `slope` per mm of arc away from any place, so that both sides of a jump of curvature are resolved.
 * @param arc curvature along a first outline
 */
export function featureSize(arc: OutlineArc, turn: number, least: number, largest: number, slope: number): FeatureSize {
  const perimeter = arc.length[arc.length.length - 1];
  let finest = largest;
  for (const k of arc.curvature) finest = Math.min(finest, Math.max(least, turn / Math.max(k, 1e-12)));
  const cells = Math.min(8192, Math.max(256, Math.ceil((2 * perimeter) / finest)));
  const step = perimeter / cells;
  const size = new Float64Array(cells).fill(largest);
  for (let i = 0; i + 1 < arc.at.length; i++) {
    const wanted = Math.max(least, turn / Math.max(arc.curvature[i], arc.curvature[i + 1], 1e-12));
    const from = Math.floor(arc.length[i] / step);
    const to = Math.floor(arc.length[i + 1] / step);
    for (let c = from; c <= to; c++) if (size[c % cells] > wanted) size[c % cells] = wanted;
  }
  for (let i = 0; i < 2 * cells; i++) grade(size, i % cells, (i + 1) % cells, slope * step);
  for (let i = 2 * cells; i > 0; i--) grade(size, i % cells, (i - 1) % cells, slope * step);
  return { step, perimeter, size };
}

function grade(size: Float64Array, from: number, to: number, rise: number): void {
  if (size[to] > size[from] + rise) size[to] = size[from] + rise;
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

/**
 * Returns closed knots: between corners spans as long as the feature size, corners three times.
 * @param corners arc lengths of the corners, rising
 * @param fewest least number of spans in a stretch between corners
 */
export function featureKnots(feature: FeatureSize, corners: readonly number[], fewest: number): Float64Array {
  const { perimeter } = feature;
  const starts = corners.length > 0 ? corners : [0];
  const knots: number[] = [];
  starts.forEach((start, c) => {
    const end = c + 1 < starts.length ? starts[c + 1] : starts[0] + perimeter;
    for (let copy = corners.length > 0 ? 3 : 1; copy > 0; copy--) knots.push(start);
    knots.push(...stretchKnots(feature, start, end, corners.length > 0 ? 1 : fewest));
  });
  return Float64Array.from(knots);
}

function stretchKnots(feature: FeatureSize, start: number, end: number, fewest: number): number[] {
  const steps = Math.max(16, Math.ceil((2 * (end - start)) / feature.step));
  const h = (end - start) / steps;
  const density = new Float64Array(steps + 1);
  for (let i = 0; i < steps; i++) density[i + 1] = density[i] + h / featureAt(feature, start + (i + 0.5) * h);
  const spans = Math.max(fewest, Math.round(density[steps]));
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
