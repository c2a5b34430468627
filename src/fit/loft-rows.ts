import { solveTridiagonal } from '../math/banded-tridiagonal.ts';
import { bsplineBasis } from '../spatial/bspline-evaluate.ts';

/** Rows of poles lofted along v. */
export interface LoftedRows {
  /** Clamped; every height once inside (mm). */
  knots: Float64Array;
  /** One row more at either end than given. */
  rows: Float64Array[];
}

/**
 * Returns the poles of the cubic spline over height that passes through rows at heights and leaves the first and the
 * last with given slopes, each column for itself (complete spline; de Boor, A Practical Guide to Splines, ch. XIII).
 * @param heights rising, at least two (mm)
 * @param rows numbers at each height
 * @param first slopes at the lowest and the highest row (per mm)
 */
export function loftRows(
  heights: Float64Array,
  rows: readonly Float64Array[],
  first: Float64Array,
  last: Float64Array,
): LoftedRows {
  const n = heights.length;
  const width = first.length;
  const knots = new Float64Array(n + 6);
  for (let i = 0; i < n + 6; i++) knots[i] = heights[Math.min(n - 1, Math.max(0, i - 3))];
  const below = (heights[1] - heights[0]) / 3;
  const above = (heights[n - 1] - heights[n - 2]) / 3;
  const second = rows[0].map((value, k) => value + below * first[k]);
  const lastButOne = rows[n - 1].map((value, k) => value - above * last[k]);
  const inner = n - 2;
  const lower = new Float64Array(inner);
  const diagonal = new Float64Array(inner);
  const upper = new Float64Array(inner);
  const values = new Float64Array(4);
  const slopes = new Float64Array(4);
  const sides = Array.from({ length: width }, (_, k) => Float64Array.from({ length: inner }, (_, i) => rows[i + 1][k]));
  for (let i = 0; i < inner; i++) {
    bsplineBasis(knots, 3, i + 4, heights[i + 1], values, slopes);
    lower[i] = values[0];
    diagonal[i] = values[1];
    upper[i] = values[2];
    for (let k = 0; k < width; k++) {
      if (i === 0) sides[k][i] -= values[0] * second[k];
      if (i === inner - 1) sides[k][i] -= values[2] * lastButOne[k];
    }
  }
  if (inner > 0) solveTridiagonal(lower, diagonal, upper, sides);
  const between = Array.from({ length: inner }, (_, i) => Float64Array.from({ length: width }, (_, k) => sides[k][i]));
  return { knots, rows: [rows[0].slice(), second, ...between, lastButOne, rows[n - 1].slice()] };
}
