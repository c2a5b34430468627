/** Solution of a small dense system by elimination with row exchanges; null when it is singular. Inputs are kept. */
export function solveSmall(matrix: Float64Array, right: Float64Array, n: number): Float64Array | null {
  const a = matrix.slice();
  const x = right.slice();
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]) > Math.abs(a[best * n + k])) best = i;
    const lead = a[best * n + k];
    if (!(Math.abs(lead) > 1e-300)) return null;
    for (let j = 0; j < n; j++) [a[k * n + j], a[best * n + j]] = [a[best * n + j], a[k * n + j]];
    [x[k], x[best]] = [x[best], x[k]];
    for (let i = k + 1; i < n; i++) {
      const factor = a[i * n + k] / lead;
      for (let j = k; j < n; j++) a[i * n + j] -= factor * a[k * n + j];
      x[i] -= factor * x[k];
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let j = i + 1; j < n; j++) x[i] -= a[i * n + j] * x[j];
    x[i] /= a[i * n + i];
  }
  return x;
}
