/**
 * The normal equations of a rigid motion [v, w]: 21 numbers of the lower triangle of H row by row, 6 of the right-hand
 * side g, the weighted sum of squares, 6 weighted sums of the rows, those of the residuals and of the weights.
 */
export const NORMAL_SIZE = 36;

/** Adds the row `[j0 … j5]` with residual `r` and weight `w`. */
export function addRow(
  sums: Float64Array,
  j0: number,
  j1: number,
  j2: number,
  j3: number,
  j4: number,
  j5: number,
  r: number,
  w: number,
): void {
  const a = w * j0;
  const b = w * j1;
  const c = w * j2;
  const d = w * j3;
  const e = w * j4;
  const f = w * j5;
  sums[0] += a * j0;
  sums[1] += b * j0;
  sums[2] += b * j1;
  sums[3] += c * j0;
  sums[4] += c * j1;
  sums[5] += c * j2;
  sums[6] += d * j0;
  sums[7] += d * j1;
  sums[8] += d * j2;
  sums[9] += d * j3;
  sums[10] += e * j0;
  sums[11] += e * j1;
  sums[12] += e * j2;
  sums[13] += e * j3;
  sums[14] += e * j4;
  sums[15] += f * j0;
  sums[16] += f * j1;
  sums[17] += f * j2;
  sums[18] += f * j3;
  sums[19] += f * j4;
  sums[20] += f * j5;
  sums[21] += a * r;
  sums[22] += b * r;
  sums[23] += c * r;
  sums[24] += d * r;
  sums[25] += e * r;
  sums[26] += f * r;
  sums[27] += w * r * r;
  sums[28] += a;
  sums[29] += b;
  sums[30] += c;
  sums[31] += d;
  sums[32] += e;
  sums[33] += f;
  sums[34] += w * r;
  sums[35] += w;
}

/**
 * Returns the sums with a uniform offset of all residuals eliminated (d + J x − b = 0 with b free): the motion no
 * longer tries to make up for a part that is larger or smaller all round.
 */
export function withoutOffset(sums: Float64Array): Float64Array {
  const out = sums.slice();
  const total = sums[35];
  let k = 0;
  for (let i = 0; i < 6; i++)
    for (let j = 0; j <= i; j++) {
      out[k] -= (sums[28 + i] * sums[28 + j]) / total;
      k++;
    }
  for (let i = 0; i < 6; i++) out[21 + i] -= (sums[28 + i] * sums[34]) / total;
  out[27] -= (sums[34] * sums[34]) / total;
  return out;
}

/** The uniform offset b that belongs to a step x. */
export function offsetAfter(sums: Float64Array, step: ArrayLike<number>): number {
  let sum = sums[34];
  for (let i = 0; i < 6; i++) sum += sums[28 + i] * step[i];
  return sum / sums[35];
}

/**
 * Whether a uniform offset can be told from a shift: the mean normal is short when opposite sides were measured, and
 * close to 1 for one side alone.
 */
export function offsetIsSeen(sums: Float64Array): boolean {
  return Math.hypot(sums[28], sums[29], sums[30]) < MEAN_NORMAL_MOST * sums[35];
}

const MEAN_NORMAL_MOST = 0.5;

/** The full symmetric 6 × 6 (row-major) of the sums. */
export function normalMatrix(sums: Float64Array): Float64Array {
  const full = new Float64Array(36);
  let k = 0;
  for (let i = 0; i < 6; i++) for (let j = 0; j <= i; j++) full[6 * i + j] = full[6 * j + i] = sums[k++];
  return full;
}

/**
 * Solves (H + damping · diag H) x = −g for the free components by Cholesky's method, the others 0; null when the matrix
 * is not positive definite.
 * @param free 6 flags, 1 = free; all free when absent
 */
export function solveStep(sums: Float64Array, damping: number, free?: ArrayLike<number>): Float64Array | null {
  const kept: number[] = [];
  for (let i = 0; i < 6; i++) if (free === undefined || free[i]) kept.push(i);
  const full = normalMatrix(sums);
  const n = kept.length;
  const l = new Float64Array(36);
  const y = new Float64Array(6);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = full[6 * kept[i] + kept[j]];
      if (i === j) sum *= 1 + damping;
      const diagonal = sum;
      for (let k = 0; k < j; k++) sum -= l[6 * i + k] * l[6 * j + k];
      if (i === j) {
        if (!(sum > 1e-15 * diagonal)) return null;
        l[6 * i + i] = Math.sqrt(sum);
      } else l[6 * i + j] = sum / l[6 * j + j];
    }
    let right = -sums[21 + kept[i]];
    for (let k = 0; k < i; k++) right -= l[6 * i + k] * y[k];
    y[i] = right / l[6 * i + i];
  }
  const x = new Float64Array(6);
  for (let i = n - 1; i >= 0; i--) {
    let sum = y[i];
    for (let k = i + 1; k < n; k++) sum -= l[6 * k + i] * x[kept[k]];
    x[kept[i]] = sum / l[6 * i + i];
  }
  return x;
}
