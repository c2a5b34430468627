/**
 * Symmetric positive definite matrix whose non-zeros lie in a band, plus dense last rows: what the normal equations of
 * a closed spline become when the wrap-around unknowns are put last. Cholesky's method makes no fill outside.
 */
export interface CyclicMatrix {
  size: number;
  /** Half band width of the leading part: entries (i, j) with |i − j| <= band. */
  band: number;
  /** Number of dense last rows. */
  border: number;
  /** Lower triangle of the band, entry (j + d, j) at j (band + 1) + d; after `factor` that of L. */
  bands: Float64Array;
  /** Dense last rows, entry (size − border + r, j) at r size + j, j up to the diagonal; after `factor` those of L. */
  rows: Float64Array;
}

/** Returns an all-zero matrix. */
export function cyclicMatrix(size: number, band: number, border: number): CyclicMatrix {
  const inner = size - border;
  return {
    size,
    band,
    border,
    bands: new Float64Array(Math.max(0, inner) * (band + 1)),
    rows: new Float64Array(border * size),
  };
}

/** Adds to the entry (i, j); either triangle, once per pair. The entry must lie in the band or in a dense row. */
export function addCyclic(matrix: CyclicMatrix, i: number, j: number, value: number): void {
  const low = Math.min(i, j);
  const high = Math.max(i, j);
  const inner = matrix.size - matrix.border;
  if (high >= inner) matrix.rows[(high - inner) * matrix.size + low] += value;
  else matrix.bands[low * (matrix.band + 1) + high - low] += value;
}

/** Replaces the matrix by its Cholesky factor L, in place. Returns false when it is not positive definite. */
export function factorCyclic(matrix: CyclicMatrix): boolean {
  const { size, band, border, bands, rows } = matrix;
  const inner = size - border;
  const width = band + 1;
  for (let j = 0; j < inner; j++) {
    const at = j * width;
    if (!(bands[at] > 0)) return false;
    const pivot = Math.sqrt(bands[at]);
    bands[at] = pivot;
    const reach = Math.min(band, inner - 1 - j);
    for (let d = 1; d <= reach; d++) bands[at + d] /= pivot;
    for (let r = 0; r < border; r++) rows[r * size + j] /= pivot;
    for (let c = 1; c <= reach; c++) {
      const factor = bands[at + c];
      if (factor === 0) continue;
      const target = (j + c) * width;
      for (let d = c; d <= reach; d++) bands[target + d - c] -= factor * bands[at + d];
      for (let r = 0; r < border; r++) rows[r * size + j + c] -= factor * rows[r * size + j];
    }
    for (let r = 0; r < border; r++) {
      const factor = rows[r * size + j];
      if (factor === 0) continue;
      for (let q = r; q < border; q++) rows[q * size + inner + r] -= factor * rows[q * size + j];
    }
  }
  for (let c = 0; c < border; c++) {
    const j = inner + c;
    const square = rows[c * size + j];
    if (!(square > 0)) return false;
    const pivot = Math.sqrt(square);
    rows[c * size + j] = pivot;
    for (let r = c + 1; r < border; r++) rows[r * size + j] /= pivot;
    for (let r = c + 1; r < border; r++) {
      const factor = rows[r * size + j];
      for (let q = r; q < border; q++) rows[q * size + inner + r] -= factor * rows[q * size + j];
    }
  }
  return true;
}

/** Solves L Lᵀ x = b in place; `matrix` holds the factor. */
export function solveCyclic(matrix: CyclicMatrix, b: Float64Array): void {
  const { size, band, border, bands, rows } = matrix;
  const inner = size - border;
  const width = band + 1;
  for (let j = 0; j < inner; j++) {
    b[j] /= bands[j * width];
    const reach = Math.min(band, inner - 1 - j);
    for (let d = 1; d <= reach; d++) b[j + d] -= bands[j * width + d] * b[j];
  }
  for (let r = 0; r < border; r++) {
    let sum = b[inner + r];
    for (let j = 0; j < inner + r; j++) sum -= rows[r * size + j] * b[j];
    b[inner + r] = sum / rows[r * size + inner + r];
  }
  for (let r = border - 1; r >= 0; r--) {
    const value = (b[inner + r] /= rows[r * size + inner + r]);
    for (let j = 0; j < inner + r; j++) b[j] -= rows[r * size + j] * value;
  }
  for (let j = inner - 1; j >= 0; j--) {
    let sum = b[j];
    const reach = Math.min(band, inner - 1 - j);
    for (let d = 1; d <= reach; d++) sum -= bands[j * width + d] * b[j + d];
    b[j] = sum / bands[j * width];
  }
}

/**
 * Returns the entries of the inverse at the places the factor has them (band and dense rows), same layout: all that
 * variances of local quantities need. Takahashi's recursion; Erisman & Tinney, Commun. ACM 18 (1975).
 */
export function inverseCyclic(factor: CyclicMatrix): CyclicMatrix {
  const { size, band, border, bands, rows } = factor;
  const inner = size - border;
  const width = band + 1;
  const inverse = cyclicMatrix(size, band, border);
  const z = inverse.rows;
  for (let j = size - 1; j >= inner; j--) {
    const pivot = rows[(j - inner) * size + j];
    for (let i = size - 1; i >= j; i--) {
      let sum = i === j ? 1 / pivot : 0;
      for (let k = j + 1; k < size; k++) {
        sum -= rows[(k - inner) * size + j] * (k > i ? z[(k - inner) * size + i] : z[(i - inner) * size + k]);
      }
      z[(i - inner) * size + j] = sum / pivot;
    }
  }
  for (let j = inner - 1; j >= 0; j--) {
    const at = j * width;
    const pivot = bands[at];
    const reach = Math.min(band, inner - 1 - j);
    for (let q = 0; q < border; q++) {
      let sum = 0;
      for (let d = 1; d <= reach; d++) sum -= bands[at + d] * z[q * size + j + d];
      for (let r = 0; r < border; r++) {
        sum -= rows[r * size + j] * (r > q ? z[r * size + inner + q] : z[q * size + inner + r]);
      }
      z[q * size + j] = sum / pivot;
    }
    for (let c = reach; c >= 0; c--) {
      let sum = c === 0 ? 1 / pivot : 0;
      for (let d = 1; d <= reach; d++) {
        const low = Math.min(d, c);
        sum -= bands[at + d] * inverse.bands[(j + low) * width + Math.abs(d - c)];
      }
      for (let r = 0; r < border; r++) sum -= rows[r * size + j] * z[r * size + j + c];
      inverse.bands[at + c] = sum / pivot;
    }
  }
  return inverse;
}

/** Returns the entry (i, j) of a matrix in this layout; zero outside its pattern. */
export function entryCyclic(matrix: CyclicMatrix, i: number, j: number): number {
  const low = Math.min(i, j);
  const high = Math.max(i, j);
  const inner = matrix.size - matrix.border;
  if (high >= inner) return matrix.rows[(high - inner) * matrix.size + low];
  return high - low > matrix.band ? 0 : matrix.bands[low * (matrix.band + 1) + high - low];
}
