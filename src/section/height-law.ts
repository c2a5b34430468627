import { solveSymmetric } from '../math/least-squares.ts';

/**
 * Returns the polynomial of least weighted squares, constant term first; a lower power when the normal equations of the
 * asked one are singular.
 * @param at scaled places, within −1 … 1
 */
export function heightLaw(
  at: ArrayLike<number>,
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  power: number,
): Float64Array {
  const size = power + 1;
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let i = 0; i < at.length; i++) {
    const powers = Float64Array.from({ length: size }, (_, p) => at[i] ** p);
    for (let r = 0; r < size; r++) {
      right[r] += weights[i] * powers[r] * values[i];
      for (let c = 0; c < size; c++) matrix[r * size + c] += weights[i] * powers[r] * powers[c];
    }
  }
  const solved = solveSymmetric(matrix, right);
  return solved === null && power > 0 ? heightLaw(at, values, weights, power - 1) : (solved ?? new Float64Array(1));
}

/** Returns the value of a polynomial, constant term first. */
export function lawAt(law: Float64Array, at: number): number {
  let value = 0;
  for (let p = law.length - 1; p >= 0; p--) value = value * at + law[p];
  return value;
}
