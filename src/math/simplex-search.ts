/** A minimum found without derivatives. */
export interface SimplexMinimum {
  at: Float64Array;
  value: number;
}

/**
 * Returns a local minimum of a function by the downhill simplex (Nelder & Mead, Computer Journal 7, 1965).
 * @param start first corner; the others lie `steps` away along each axis
 * @param tolerance the search ends when the corners' values differ by less than this
 */
export function simplexSearch(
  f: (at: Float64Array) => number,
  start: ArrayLike<number>,
  steps: ArrayLike<number>,
  tolerance: number,
  most = 200 * start.length,
): SimplexMinimum {
  const n = start.length;
  const corners = Array.from({ length: n + 1 }, (_, k): SimplexMinimum => {
    const at = Float64Array.from(start);
    if (k > 0) at[k - 1] += steps[k - 1];
    return { at, value: f(at) };
  });
  const centre = new Float64Array(n);
  const along = (worst: Float64Array, factor: number): SimplexMinimum => {
    const at = new Float64Array(n);
    for (let a = 0; a < n; a++) at[a] = centre[a] + factor * (worst[a] - centre[a]);
    return { at, value: f(at) };
  };
  for (let round = 0; round < most; round++) {
    corners.sort((a, b) => a.value - b.value);
    const worst = corners[n];
    if (worst.value - corners[0].value < tolerance) break;
    centre.fill(0);
    for (let k = 0; k < n; k++) for (let a = 0; a < n; a++) centre[a] += corners[k].at[a] / n;
    const mirrored = along(worst.at, -1);
    if (mirrored.value < corners[0].value) {
      const farther = along(worst.at, -2);
      corners[n] = farther.value < mirrored.value ? farther : mirrored;
    } else if (mirrored.value < corners[n - 1].value) {
      corners[n] = mirrored;
    } else {
      const nearer = along(worst.at, mirrored.value < worst.value ? -0.5 : 0.5);
      if (nearer.value < Math.min(worst.value, mirrored.value)) corners[n] = nearer;
      else {
        for (let k = 1; k <= n; k++) {
          for (let a = 0; a < n; a++) corners[k].at[a] = 0.5 * (corners[k].at[a] + corners[0].at[a]);
          corners[k].value = f(corners[k].at);
        }
      }
    }
  }
  corners.sort((a, b) => a.value - b.value);
  return corners[0];
}
