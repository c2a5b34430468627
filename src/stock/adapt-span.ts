import { solveSymmetric } from '../math/least-squares.ts';

/** Strengths tried, in mean steps cubed. */
const STRENGTHS = [1e-3, 1e-2, 1e-1, 1, 1e1, 1e2, 1e3];

/** Price of a degree of freedom that keeps cross-validation from taking noise for form. */
const DEAR = 1.4;

/**
 * Returns values over the span smoothed by a natural cubic spline (Reinsch 1967): least Σ (f − y)² + strength ∫ f''², of
 * the strengths tried the one of least generalised cross-validation with dearer freedom (Kim & Gu 2004). Fewer than four values stay as they are.
 * @param heights rising (mm)
 */
export function smoothSpan(heights: ArrayLike<number>, values: ArrayLike<number>): Float64Array {
  const n = heights.length;
  if (n < 4) return Float64Array.from(values);
  const step = (heights[n - 1] - heights[0]) / (n - 1);
  const bend = bendingForm(heights);
  let best: { score: number; values: Float64Array } = {
    score: Number.POSITIVE_INFINITY,
    values: Float64Array.from(values),
  };
  for (const strength of STRENGTHS) {
    const matrix = bend.map((value, k) => strength * step ** 3 * value + (k % (n + 1) === 0 ? 1 : 0));
    const fitted = solveSymmetric(matrix, Float64Array.from(values));
    if (!fitted) continue;
    let [squares, trace] = [0, 0];
    for (let i = 0; i < n; i++) {
      squares += (fitted[i] - values[i]) ** 2;
      const unit = new Float64Array(n);
      unit[i] = 1;
      trace += solveSymmetric(matrix, unit)?.[i] ?? 1;
    }
    const free = n - DEAR * trace;
    const score = free > 0 ? squares / (free * free) : Number.POSITIVE_INFINITY;
    if (score < best.score) best = { score, values: fitted };
  }
  return best.values;
}

/** The matrix of ∫ f''² of the natural cubic spline through values: Q R⁻¹ Qᵀ (Green & Silverman 1994, ch. 2). */
function bendingForm(heights: ArrayLike<number>): Float64Array {
  const n = heights.length;
  const m = n - 2;
  const h = (i: number) => heights[i + 1] - heights[i];
  const r = new Float64Array(m * m);
  const q = new Float64Array(m * n);
  for (let j = 0; j < m; j++) {
    r[j * m + j] = (h(j) + h(j + 1)) / 3;
    if (j + 1 < m) r[j * m + j + 1] = r[(j + 1) * m + j] = h(j + 1) / 6;
    q[j * n + j] = 1 / h(j);
    q[j * n + j + 1] = -1 / h(j) - 1 / h(j + 1);
    q[j * n + j + 2] = 1 / h(j + 1);
  }
  const form = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const column = solveSymmetric(
      r,
      Float64Array.from({ length: m }, (_, j) => q[j * n + i]),
    );
    if (!column) continue;
    for (let k = 0; k < n; k++) for (let j = 0; j < m; j++) form[k * n + i] += q[j * n + k] * column[j];
  }
  return form;
}

/**
 * Returns the largest second difference of values over the span, as the distance of a value from the line between its
 * neighbours (mm), and the number of that value; −1 with fewer than three.
 */
export function secondDifference(heights: ArrayLike<number>, values: ArrayLike<number>): { value: number; at: number } {
  let found = { value: 0, at: -1 };
  for (let i = 1; i + 1 < heights.length; i++) {
    const part = (heights[i] - heights[i - 1]) / (heights[i + 1] - heights[i - 1]);
    const off = Math.abs(values[i] - (1 - part) * values[i - 1] - part * values[i + 1]);
    if (found.at < 0 || off > found.value) found = { value: off, at: i };
  }
  return found;
}
