/**
 * Solves a tridiagonal system with any number of right-hand sides, in place; no pivoting (diagonally dominant or
 * otherwise stable rows). Thomas's algorithm.
 * @param lower lower[i] multiplies unknown i − 1 in row i; lower[0] is not used
 * @param diagonal overwritten
 * @param upper upper[i] multiplies unknown i + 1 in row i; the last is not used
 * @param sides right-hand sides, overwritten by the solutions
 */
export function solveTridiagonal(
  lower: Float64Array,
  diagonal: Float64Array,
  upper: Float64Array,
  sides: readonly Float64Array[],
): void {
  const n = diagonal.length;
  for (let i = 1; i < n; i++) {
    const factor = lower[i] / diagonal[i - 1];
    diagonal[i] -= factor * upper[i - 1];
    for (const side of sides) side[i] -= factor * side[i - 1];
  }
  for (const side of sides) {
    side[n - 1] /= diagonal[n - 1];
    for (let i = n - 2; i >= 0; i--) side[i] = (side[i] - upper[i] * side[i + 1]) / diagonal[i];
  }
}

/**
 * Solves a cyclic tridiagonal system (lower[0] couples row 0 to the last unknown, upper[n − 1] the last row to unknown
 * 0), n >= 3, in place. Sherman-Morrison correction of one tridiagonal solve.
 */
export function solveCyclicTridiagonal(
  lower: Float64Array,
  diagonal: Float64Array,
  upper: Float64Array,
  sides: readonly Float64Array[],
): void {
  const n = diagonal.length;
  const corner = upper[n - 1];
  const other = lower[0];
  const gamma = -diagonal[0];
  const u = new Float64Array(n);
  u[0] = gamma;
  u[n - 1] = corner;
  diagonal[0] -= gamma;
  diagonal[n - 1] -= (corner * other) / gamma;
  solveTridiagonal(lower, diagonal, upper, [...sides, u]);
  const scale = 1 + u[0] + (other * u[n - 1]) / gamma;
  for (const side of sides) {
    const amount = (side[0] + (other * side[n - 1]) / gamma) / scale;
    for (let i = 0; i < n; i++) side[i] -= amount * u[i];
  }
}
