import { leastSquares } from './least-squares.ts';
import { planeLength } from './plane-length.ts';

/** A circle fitted to points. */
export interface CircleFit {
  x: number;
  y: number;
  radius: number;
  /** Root of the weighted mean squared distance (mm). */
  rms: number;
  /** Covariance of (x, y, radius) for unit variance of one point, row-major 3 × 3. */
  covariance: Float64Array;
  converged: boolean;
  iterations: number;
}

/**
 * Returns the circle with the least weighted sum of squared distances, or null for fewer than three points or points on
 * a line. Start: algebraic fit of Taubin; then Gauss-Newton on the distances (Chernov & Lesort). The covariance allows
 * for weights that are no variances (such as arc lengths).
 * @param x,y points (mm)
 * @param weights a weight a point (arc length it stands for); equal when absent
 */
export function fitCircle(x: ArrayLike<number>, y: ArrayLike<number>, weights?: ArrayLike<number>): CircleFit | null {
  const start = taubinCircle(x, y, weights);
  if (!start) return null;
  const n = x.length;
  const distances = (p: Float64Array, residual: Float64Array, derivative: Float64Array): boolean => {
    for (let i = 0; i < n; i++) {
      const dx = x[i] - p[0];
      const dy = y[i] - p[1];
      const d = planeLength(dx, dy);
      if (d === 0) return false;
      residual[i] = d - p[2];
      derivative[3 * i] = -dx / d;
      derivative[3 * i + 1] = -dy / d;
      derivative[3 * i + 2] = -1;
    }
    return true;
  };
  const fit = leastSquares(start, n, distances, weights, [start[2], start[2], start[2]]);
  if (!fit) return null;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += weights ? weights[i] : 1;
  const { parameters, covariance, converged, iterations } = fit;
  const rms = Math.sqrt(fit.cost / sum);
  return { x: parameters[0], y: parameters[1], radius: parameters[2], rms, covariance, converged, iterations };
}

/**
 * Returns [x, y, radius] of Taubin's algebraic circle fit, or null when the points have no bend. Newton's method finds
 * the smallest root of the characteristic polynomial of the moments (Chernov & Lesort).
 * @param x,y points (mm)
 * @param weights a weight a point; equal when absent
 */
export function taubinCircle(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights?: ArrayLike<number>,
): [number, number, number] | null {
  const n = x.length;
  if (n < 3) return null;
  let sum = 0;
  let meanX = 0;
  let meanY = 0;
  for (let i = 0; i < n; i++) {
    const w = weights ? weights[i] : 1;
    sum += w;
    meanX += w * x[i];
    meanY += w * y[i];
  }
  meanX /= sum;
  meanY /= sum;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  let xz = 0;
  let yz = 0;
  let zz = 0;
  for (let i = 0; i < n; i++) {
    const w = (weights ? weights[i] : 1) / sum;
    const u = x[i] - meanX;
    const v = y[i] - meanY;
    const z = u * u + v * v;
    xx += w * u * u;
    yy += w * v * v;
    xy += w * u * v;
    xz += w * u * z;
    yz += w * v * z;
    zz += w * z * z;
  }
  const mz = xx + yy;
  const det = xx * yy - xy * xy;
  if (!(det > 1e-24 * mz * mz)) return null;
  const varZ = zz - mz * mz;
  const a3 = 4 * mz;
  const a2 = -varZ - 4 * mz * mz;
  const a1 = (varZ + 4 * det) * mz - xz * xz - yz * yz;
  const a0 = xz * (xz * yy - yz * xy) + yz * (yz * xx - xz * xy) - varZ * det;
  let root = 0;
  let value = a0;
  for (let step = 0; step < 100; step++) {
    const next = root - value / (a1 + root * (2 * a2 + 3 * a3 * root));
    if (!Number.isFinite(next) || next < 0) break;
    const after = a0 + next * (a1 + next * (a2 + next * a3));
    if (next === root || Math.abs(after) >= Math.abs(value)) break;
    root = next;
    value = after;
  }
  const d = 2 * (root * root - root * mz + det);
  const cx = (xz * (yy - root) - yz * xy) / d;
  const cy = (yz * (xx - root) - xz * xy) / d;
  const radius = Math.sqrt(cx * cx + cy * cy + mz);
  return Number.isFinite(radius) ? [cx + meanX, cy + meanY, radius] : null;
}
