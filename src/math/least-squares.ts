/** Result of a damped Gauss-Newton run. */
export interface LeastSquaresFit {
  parameters: Float64Array;
  /** Weighted sum of squared residuals. */
  cost: number;
  /** Covariance of the parameters for unit variance of one residual, row-major. */
  covariance: Float64Array;
  converged: boolean;
  iterations: number;
}

/** Writes the residuals and the rows of their derivatives (row-major, count × parameters); false where undefined. */
export type Residuals = (parameters: Float64Array, residual: Float64Array, derivative: Float64Array) => boolean;

/** Steps below this share of the scale are small; so many of them end a run that does not settle to 1e-12. */
const SMALL_STEP = 1e-7;
const SMALL_STEPS = 6;
const MAX_STEPS = 60;

/**
 * Returns the parameters with the least weighted sum of squared residuals, by Gauss-Newton steps with Levenberg's
 * damping, or null when the problem is singular. The covariance holds for residuals of equal variance whatever the
 * weights are: N⁻¹ (Jᵀ W² J) N⁻¹ with N = Jᵀ W J.
 * @param start first guess
 * @param count number of residuals
 * @param residuals see `Residuals`
 * @param weights a weight a residual (such as the arc length it stands for); equal when absent
 * @param scale size of each parameter; a step below 1e-12 of it ends the run
 */
export function leastSquares(
  start: ArrayLike<number>,
  count: number,
  residuals: Residuals,
  weights: ArrayLike<number> | undefined,
  scale: ArrayLike<number>,
): LeastSquaresFit | null {
  const m = start.length;
  let parameters = Float64Array.from(start);
  const residual = new Float64Array(count);
  const derivative = new Float64Array(count * m);
  if (!residuals(parameters, residual, derivative)) return null;
  let cost = weightedSquares(residual, weights);
  let damping = 0;
  let iterations = 0;
  let converged = false;
  let small = 0;
  const normal = new Float64Array(m * m);
  const right = new Float64Array(m);
  const trial = new Float64Array(m);
  while (!converged && iterations < MAX_STEPS) {
    iterations++;
    buildNormal(residual, derivative, weights, m, normal, right);
    for (;;) {
      const step = solveSymmetric(normal, right, damping);
      if (!step && damping > 1e8) return null;
      if (step) {
        let size = 0;
        for (let k = 0; k < m; k++) {
          trial[k] = parameters[k] - step[k];
          size = Math.max(size, Math.abs(step[k]) / scale[k]);
        }
        const defined = residuals(trial, residual, derivative);
        const next = defined ? weightedSquares(residual, weights) : Number.POSITIVE_INFINITY;
        // Near the end the cost no longer tells steps apart; the last ones are taken by their size, so that the
        // answer does not hang on rounding.
        const isSmall = size <= SMALL_STEP;
        if (next <= cost || (isSmall && defined && next <= cost * (1 + 1e-12)) || (size <= 1e-10 && defined)) {
          parameters = Float64Array.from(trial);
          if (isSmall) small++;
          converged = size <= 1e-12 || small > SMALL_STEPS;
          cost = next;
          damping = damping > 1e-9 ? damping / 10 : 0;
          break;
        }
      }
      damping = damping === 0 ? 1e-6 : damping * 10;
      if (damping > 1e12) return null;
    }
  }
  // The accepted trial was the last one looked at: the derivatives are those at its parameters.
  const covariance = sandwich(derivative, weights, count, m);
  return covariance ? { parameters, cost, covariance, converged, iterations } : null;
}

function weightedSquares(residual: Float64Array, weights: ArrayLike<number> | undefined): number {
  let sum = 0;
  for (let i = 0; i < residual.length; i++) sum += (weights ? weights[i] : 1) * residual[i] * residual[i];
  return sum;
}

function buildNormal(
  residual: Float64Array,
  derivative: Float64Array,
  weights: ArrayLike<number> | undefined,
  m: number,
  normal: Float64Array,
  right: Float64Array,
): void {
  const count = residual.length;
  normal.fill(0);
  addProducts(derivative, weights, 1, count, m, normal);
  for (let a = 0; a < m; a++) {
    let sum = 0;
    for (let i = 0; i < count; i++) sum += (weights ? weights[i] : 1) * derivative[i * m + a] * residual[i];
    right[a] = sum;
  }
}

/** Adds Jᵀ Wᵖ J to a symmetric matrix of zeros; column by column, so that every sum runs in a register. */
function addProducts(
  derivative: Float64Array,
  weights: ArrayLike<number> | undefined,
  power: 1 | 2,
  count: number,
  m: number,
  matrix: Float64Array,
): void {
  for (let a = 0; a < m; a++) {
    for (let b = a; b < m; b++) {
      let sum = 0;
      for (let i = 0; i < count; i++) {
        const given = weights ? weights[i] : 1;
        sum += (power === 1 ? given : given * given) * derivative[i * m + a] * derivative[i * m + b];
      }
      matrix[a * m + b] = sum;
      matrix[b * m + a] = sum;
    }
  }
}

/** Returns the solution of a symmetric positive system (row-major), its diagonal enlarged by `damping`, or null. */
export function solveSymmetric(matrix: Float64Array, right: Float64Array, damping = 0): Float64Array | null {
  const m = right.length;
  const scale = new Float64Array(m);
  for (let k = 0; k < m; k++) scale[k] = matrix[k * m + k] > 0 ? 1 / Math.sqrt(matrix[k * m + k]) : 1;
  const lower = new Float64Array(m * m);
  for (let i = 0; i < m; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * m + j] * scale[i] * scale[j];
      if (i === j) sum += damping;
      for (let k = 0; k < j; k++) sum -= lower[i * m + k] * lower[j * m + k];
      if (i === j) {
        if (!(sum > 1e-14)) return null;
        lower[i * m + i] = Math.sqrt(sum);
      } else lower[i * m + j] = sum / lower[j * m + j];
    }
  }
  const solution = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    let sum = right[i] * scale[i];
    for (let k = 0; k < i; k++) sum -= lower[i * m + k] * solution[k];
    solution[i] = sum / lower[i * m + i];
  }
  for (let i = m - 1; i >= 0; i--) {
    let sum = solution[i];
    for (let k = i + 1; k < m; k++) sum -= lower[k * m + i] * solution[k];
    solution[i] = sum / lower[i * m + i];
  }
  for (let i = 0; i < m; i++) solution[i] *= scale[i];
  return solution;
}

function sandwich(
  derivative: Float64Array,
  weights: ArrayLike<number> | undefined,
  count: number,
  m: number,
): Float64Array | null {
  const normal = new Float64Array(m * m);
  const middle = new Float64Array(m * m);
  addProducts(derivative, weights, 1, count, m, normal);
  addProducts(derivative, weights, 2, count, m, middle);
  const inverse = new Float64Array(m * m);
  for (let k = 0; k < m; k++) {
    const unit = new Float64Array(m);
    unit[k] = 1;
    const column = solveSymmetric(normal, unit);
    if (!column) return null;
    for (let i = 0; i < m; i++) inverse[i * m + k] = column[i];
  }
  const half = new Float64Array(m * m);
  const covariance = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) for (let k = 0; k < m; k++) half[i * m + j] += inverse[i * m + k] * middle[k * m + j];
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++)
      for (let k = 0; k < m; k++) covariance[i * m + j] += half[i * m + k] * inverse[k * m + j];
  return covariance;
}
