/** Eigenvalues in rising order; `vectors` holds the unit eigenvector k in row k (row-major n × n). */
export interface SymmetricEigen {
  values: Float64Array;
  vectors: Float64Array;
}

const SWEEP_LIMIT = 60;

/**
 * Eigenvalues and unit eigenvectors of a small symmetric matrix by cyclic Jacobi rotations
 * (Golub & Van Loan, Matrix Computations, 8.5).
 *
 * @param matrix row-major n × n; only its symmetric part counts; left untouched
 */
export function symmetricEigen(matrix: ArrayLike<number>, n: number): SymmetricEigen {
  const a = new Float64Array(n * n);
  const v = new Float64Array(n * n);
  let scale = 0;
  for (let i = 0; i < n; i++) {
    v[i * n + i] = 1;
    for (let j = 0; j < n; j++) {
      a[i * n + j] = 0.5 * (matrix[i * n + j] + matrix[j * n + i]);
      scale = Math.max(scale, Math.abs(a[i * n + j]));
    }
  }
  for (let sweep = 0; sweep < SWEEP_LIMIT; sweep++) {
    let off = 0;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) off = Math.max(off, Math.abs(a[p * n + q]));
    if (off <= 1e-17 * scale) break;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(a, v, n, p, q);
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => a[i * n + i] - a[j * n + j] || i - j);
  const values = new Float64Array(n);
  const vectors = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    const from = order[k];
    values[k] = a[from * n + from];
    for (let i = 0; i < n; i++) vectors[k * n + i] = v[i * n + from];
  }
  return { values, vectors };
}

/** One rotation that makes a[p][q] vanish, gathered in the columns of `v`. */
function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const apq = a[p * n + q];
  if (apq === 0) return;
  const tau = (a[q * n + q] - a[p * n + p]) / (2 * apq);
  const t = Number.isFinite(tau) ? Math.sign(tau || 1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau)) : 0;
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    const akp = a[k * n + p];
    const akq = a[k * n + q];
    a[k * n + p] = c * akp - s * akq;
    a[k * n + q] = s * akp + c * akq;
  }
  for (let k = 0; k < n; k++) {
    const apk = a[p * n + k];
    const aqk = a[q * n + k];
    a[p * n + k] = c * apk - s * aqk;
    a[q * n + k] = s * apk + c * aqk;
    const vkp = v[k * n + p];
    const vkq = v[k * n + q];
    v[k * n + p] = c * vkp - s * vkq;
    v[k * n + q] = s * vkp + c * vkq;
  }
  a[p * n + q] = 0;
  a[q * n + p] = 0;
}
