import { CamberwrightError } from '../error.ts';
import { solveCyclicTridiagonal, solveTridiagonal } from '../math/banded-tridiagonal.ts';
import type { Outline } from '../model/outline.ts';
import { outlineFromHermite } from './pieces-to-outline.ts';

export interface InterpolateOptions {
  /** Indices of points where the outline may turn sharply. */
  corners?: readonly number[];
  /** Only cubic outlines are made. */
  degree?: 3;
  /** Parameter of each point, rising, and of the end of the turn; absent: cumulative chord length (mm). */
  parameters?: Float64Array;
}

/**
 * Returns the closed cubic spline through points: C2 all round when there is no corner, else one not-a-knot spline a
 * stretch from corner to corner, each with its own end slopes (de Boor, A Practical Guide to Splines, ch. IV). O(n).
 * @param points x0, y0, x1, … (mm) in order round the outline, the first not repeated, at least 3
 * @throws `shape/outline` when there are too few points or two neighbours coincide
 */
export function interpolateOutline(points: Float64Array, options: InterpolateOptions = {}): Outline {
  const count = points.length >> 1;
  if (count < 3) {
    throw new CamberwrightError('shape/outline', `An outline needs at least 3 points; ${count} given.`, {
      remedy: 'Give more points of the section.',
    });
  }
  const { at, period } = options.parameters
    ? { at: options.parameters.subarray(0, count), period: options.parameters[count] - options.parameters[0] }
    : chordParameters(points);
  const steps = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    steps[i] = (i + 1 < count ? at[i + 1] : at[0] + period) - at[i];
    if (!(steps[i] > 0)) {
      throw new CamberwrightError('shape/outline', `Points ${i} and ${(i + 1) % count} of the outline coincide.`, {
        where: `point ${i}`,
        remedy: 'Remove the repeated point.',
      });
    }
  }
  const corners = [...new Set(options.corners ?? [])].sort((a, b) => a - b);
  const leaving = new Float64Array(2 * count);
  const arriving = new Float64Array(2 * count);
  if (corners.length === 0) {
    smoothSlopes(points, steps, leaving);
    arriving.set(leaving);
  } else {
    corners.forEach((corner, c) => {
      const next = corners[(c + 1) % corners.length];
      const intervals = (next - corner + count - 1) % count;
      stretchSlopes(points, steps, corner, intervals + 1, leaving, arriving);
    });
  }
  return outlineFromHermite({ at, period, points, leaving, arriving, corners });
}

/** Returns cumulative chord lengths from the first point and the closed polygon's length (mm). */
export function chordParameters(points: Float64Array): { at: Float64Array; period: number } {
  const count = points.length >> 1;
  const at = new Float64Array(count);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    at[i] = sum;
    const next = (i + 1) % count;
    sum += Math.hypot(points[2 * next] - points[2 * i], points[2 * next + 1] - points[2 * i + 1]);
  }
  return { at, period: sum };
}

function smoothSlopes(points: Float64Array, steps: Float64Array, slopes: Float64Array): void {
  const count = steps.length;
  const lower = new Float64Array(count);
  const diagonal = new Float64Array(count);
  const upper = new Float64Array(count);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const before = (i + count - 1) % count;
    const after = (i + 1) % count;
    const h0 = steps[before];
    const h1 = steps[i];
    lower[i] = h1;
    diagonal[i] = 2 * (h0 + h1);
    upper[i] = h0;
    x[i] = bend(points[2 * before], points[2 * i], points[2 * after], h0, h1);
    y[i] = bend(points[2 * before + 1], points[2 * i + 1], points[2 * after + 1], h0, h1);
  }
  solveCyclicTridiagonal(lower, diagonal, upper, [x, y]);
  for (let i = 0; i < count; i++) {
    slopes[2 * i] = x[i];
    slopes[2 * i + 1] = y[i];
  }
}

function bend(before: number, here: number, after: number, h0: number, h1: number): number {
  return 3 * ((h1 / h0) * (here - before) + (h0 / h1) * (after - here));
}

/** Slopes of the not-a-knot spline over `intervals` steps from node `start`; a line or parabola when there are few. */
function stretchSlopes(
  points: Float64Array,
  steps: Float64Array,
  start: number,
  intervals: number,
  leaving: Float64Array,
  arriving: Float64Array,
): void {
  const count = steps.length;
  const node = (i: number) => (start + i) % count;
  const n = intervals + 1;
  const lower = new Float64Array(n);
  const diagonal = new Float64Array(n);
  const upper = new Float64Array(n);
  const sides = [new Float64Array(n), new Float64Array(n)];
  const h = (i: number) => steps[node(i)];
  const last = intervals - 1;
  for (let axis = 0; axis < 2; axis++) {
    const value = (i: number) => points[2 * node(i) + axis];
    const rise = (i: number) => (value(i + 1) - value(i)) / h(i);
    const side = sides[axis];
    for (let i = 1; i < intervals; i++) side[i] = bend(value(i - 1), value(i), value(i + 1), h(i - 1), h(i));
    if (intervals === 1) side[0] = side[1] = rise(0);
    else if (intervals === 2) {
      side[0] = 2 * rise(0);
      side[2] = 2 * rise(1);
    } else {
      side[0] = endSide(h(0), h(1), rise(0), rise(1));
      side[intervals] = endSide(h(last), h(last - 1), rise(last), rise(last - 1));
    }
  }
  for (let i = 1; i < intervals; i++) {
    lower[i] = h(i);
    diagonal[i] = 2 * (h(i - 1) + h(i));
    upper[i] = h(i - 1);
  }
  const few = intervals <= 2;
  diagonal[0] = few ? 1 : h(1);
  diagonal[intervals] = few ? 1 : h(last - 1);
  upper[0] = intervals === 1 ? 0 : few ? 1 : h(0) + h(1);
  lower[intervals] = intervals === 1 ? 0 : few ? 1 : h(last) + h(last - 1);
  solveTridiagonal(lower, diagonal, upper, sides);
  for (let i = 0; i < n; i++) {
    for (let axis = 0; axis < 2; axis++) {
      if (i < intervals) leaving[2 * node(i) + axis] = sides[axis][i];
      if (i > 0) arriving[2 * node(i) + axis] = sides[axis][i];
    }
  }
}

/** Right side of the not-a-knot condition at an end: h0, rise0 the outermost step, h1, rise1 the next. */
function endSide(h0: number, h1: number, rise0: number, rise1: number): number {
  return ((3 * h0 + 2 * h1) * h1 * rise0 + h0 * h0 * rise1) / (h0 + h1);
}
