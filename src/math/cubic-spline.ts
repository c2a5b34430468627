import { solveCyclicTridiagonal, solveTridiagonal } from './banded-tridiagonal.ts';

/** How a cubic spline ends: `periodic` (last value equals the first), or `free` (not-a-knot; a parabola on 3, a line on 2 knots). */
export type SplineEnds = 'free' | 'periodic';

/**
 * Writes the knot slopes of the interpolating C² cubic spline. Solved as a tridiagonal system for the slopes
 * (de Boor, A Practical Guide to Splines, ch. IV). Values are read at `values[from + i · stride]`, slopes are written
 * to the same places of `slopes`.
 * @param x rising knots, used from `first` on, `count` of them
 */
export function splineSlopes(
  x: Float64Array,
  first: number,
  count: number,
  values: Float64Array,
  slopes: Float64Array,
  from: number,
  stride: number,
  ends: SplineEnds,
): void {
  const y = (i: number): number => values[from + i * stride];
  const set = (i: number, slope: number): void => {
    slopes[from + i * stride] = slope;
  };
  const step = (i: number): number => x[first + i + 1] - x[first + i];
  const rise = (i: number): number => (y(i + 1) - y(i)) / step(i);
  if (count < 2) {
    set(0, 0);
    return;
  }
  if (ends === 'periodic') {
    periodicSlopes(count - 1, step, rise, set);
    return;
  }
  if (count === 2) {
    set(0, rise(0));
    set(1, rise(0));
    return;
  }
  if (count === 3) {
    const bend = (rise(1) - rise(0)) / (step(0) + step(1));
    set(0, rise(0) - bend * step(0));
    set(1, rise(0) + bend * step(0));
    set(2, rise(1) + bend * step(1));
    return;
  }
  const n = count;
  const lower = new Float64Array(n);
  const diagonal = new Float64Array(n);
  const upper = new Float64Array(n);
  const right = new Float64Array(n);
  diagonal[0] = step(1);
  upper[0] = step(0) + step(1);
  right[0] = ((step(0) + 2 * upper[0]) * step(1) * rise(0) + step(0) * step(0) * rise(1)) / upper[0];
  for (let i = 1; i < n - 1; i++) {
    lower[i] = step(i);
    diagonal[i] = 2 * (step(i - 1) + step(i));
    upper[i] = step(i - 1);
    right[i] = 3 * (step(i) * rise(i - 1) + step(i - 1) * rise(i));
  }
  const h1 = step(n - 2);
  const h2 = step(n - 3);
  diagonal[n - 1] = h2;
  lower[n - 1] = h1 + h2;
  right[n - 1] = ((h1 + 2 * (h1 + h2)) * h2 * rise(n - 2) + h1 * h1 * rise(n - 3)) / (h1 + h2);
  solveTridiagonal(lower, diagonal, upper, [right]);
  for (let i = 0; i < n; i++) set(i, right[i]);
}

/** Slopes of the periodic spline over `n` intervals. */
function periodicSlopes(
  n: number,
  step: (i: number) => number,
  rise: (i: number) => number,
  set: (i: number, slope: number) => void,
): void {
  const lower = new Float64Array(n);
  const diagonal = new Float64Array(n);
  const upper = new Float64Array(n);
  const right = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const before = (i + n - 1) % n;
    lower[i] = step(i);
    diagonal[i] = 2 * (step(before) + step(i));
    upper[i] = step(before);
    right[i] = 3 * (step(i) * rise(before) + step(before) * rise(i));
  }
  solveCyclicTridiagonal(lower, diagonal, upper, [right]);
  for (let i = 0; i < n; i++) set(i, right[i]);
  set(n, right[0]);
}
