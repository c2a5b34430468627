import { fitCircle } from './circle-fit.ts';
import { leastSquares } from './least-squares.ts';

/**
 * A conic with one axis of given direction: across² = 2 R along − e along², measured from its nose. `e` = 1 is a circle,
 * 0 < e an ellipse with a = R / e and b = R / √e, e ≤ 0 an open conic.
 */
export interface NoseConic {
  /** Nose: where the conic meets its axis (mm). */
  noseX: number;
  noseY: number;
  /** Radius of curvature at the nose, b² / a (mm). */
  radius: number;
  /** (b / a)². */
  e: number;
  /** Weighted root mean square distance (mm). */
  rms: number;
  /** Covariance of (along and across position of the nose, radius, e) for unit variance of one point, 4 × 4. */
  covariance: Float64Array;
  converged: boolean;
  iterations: number;
}

/** Semi-axes of a `NoseConic` that is an ellipse, with their variances for unit variance of one point. */
export interface SemiAxes {
  a: number;
  b: number;
  varianceA: number;
  varianceB: number;
}

/**
 * Returns the conic with the least weighted sum of squared orthogonal distances, its axis along (axisX, axisY), or null
 * when it cannot be found. Start: circle fit. Then Gauss-Newton, the foot of each point found by Newton's method on the
 * conic (orthogonal distance fit after Ahn, in nose form so that a long ellipse stays well posed).
 * @param x,y points (mm)
 * @param weights a weight a point (arc length it stands for); equal when absent
 * @param axisX,axisY unit vector along the axis from the nose into the body
 * @param fixedE (b / a)² where it is given, so that only place and size are fitted
 */
export function fitNoseConic(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights: ArrayLike<number> | undefined,
  axisX: number,
  axisY: number,
  fixedE?: number,
): NoseConic | null {
  const n = x.length;
  const circle = n >= 5 ? fitCircle(x, y, weights) : null;
  if (!circle) return null;
  const u = new Float64Array(n);
  const v = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    u[i] = (x[i] - circle.x) * axisX + (y[i] - circle.y) * axisY;
    v[i] = (y[i] - circle.y) * axisX - (x[i] - circle.x) * axisY;
  }
  const start = conicByLinearFit(u, v, weights) ?? [-circle.radius, 0, circle.radius, 1];
  const m = fixedE === undefined ? 4 : 3;
  const row = new Float64Array(4);
  const distances = (p: Float64Array, residual: Float64Array, derivative: Float64Array): boolean => {
    for (let i = 0; i < n; i++) {
      if (!(p[2] > 0)) return false;
      if (!distanceToConic(u[i] - p[0], v[i] - p[1], p[2], fixedE ?? p[3], row, 0)) return false;
      residual[i] = distanceOut;
      for (let k = 0; k < m; k++) derivative[m * i + k] = row[k];
    }
    return true;
  };
  const r = circle.radius;
  const fit = leastSquares(start.slice(0, m), n, distances, weights, [r, r, r, 1].slice(0, m));
  if (!fit) return null;
  const [u0, v0, radius] = fit.parameters;
  const covariance = new Float64Array(16);
  for (let i = 0; i < m; i++) for (let j = 0; j < m; j++) covariance[4 * i + j] = fit.covariance[m * i + j];
  let sum = 0;
  for (let i = 0; i < n; i++) sum += weights ? weights[i] : 1;
  return {
    noseX: circle.x + u0 * axisX - v0 * axisY,
    noseY: circle.y + u0 * axisY + v0 * axisX,
    radius,
    e: fixedE ?? fit.parameters[3],
    rms: Math.sqrt(fit.cost / sum),
    covariance,
    converged: fit.converged,
    iterations: fit.iterations,
  };
}

/** Returns the semi-axes of an elliptic nose conic, or null when it is open. */
export function semiAxes(conic: NoseConic): SemiAxes | null {
  const { radius, e, covariance } = conic;
  if (!(e > 0)) return null;
  const rr = covariance[10];
  const re = covariance[11];
  const ee = covariance[15];
  const a = radius / e;
  const b = radius / Math.sqrt(e);
  const aR = 1 / e;
  const aE = -radius / (e * e);
  const bR = 1 / Math.sqrt(e);
  const bE = -radius / (2 * e ** 1.5);
  return {
    a,
    b,
    varianceA: aR * aR * rr + 2 * aR * aE * re + aE * aE * ee,
    varianceB: bR * bR * rr + 2 * bR * bE * re + bE * bE * ee,
  };
}

/** Linear least squares of v² against 1, u, u², v: a start without iteration. Null when it is no nose. */
function conicByLinearFit(u: Float64Array, v: Float64Array, weights: ArrayLike<number> | undefined): number[] | null {
  const linear = (p: Float64Array, residual: Float64Array, derivative: Float64Array): boolean => {
    for (let i = 0; i < u.length; i++) {
      residual[i] = v[i] * v[i] - p[0] - p[1] * u[i] - p[2] * u[i] * u[i] - p[3] * v[i];
      derivative.set([-1, -u[i], -u[i] * u[i], -v[i]], 4 * i);
    }
    return true;
  };
  const fit = leastSquares([0, 0, -1, 0], u.length, linear, weights, [1, 1, 1, 1]);
  if (!fit) return null;
  const [c0, c1, c2, c3] = fit.parameters;
  const v0 = c3 / 2;
  const constant = c0 + v0 * v0;
  const inside = c1 * c1 - 4 * c2 * constant;
  if (!(inside > 0)) return null;
  const slope = Math.sqrt(inside);
  const u0 = Math.abs(c2) < 1e-9 ? -constant / c1 : (-c1 + slope) / (2 * c2);
  return slope > 0 && Number.isFinite(u0) ? [u0, v0, slope / 2, -c2] : null;
}

/**
 * Returns the signed distance (positive outside) of a point from the conic v² = 2 R u − e u², its nose at the origin, or
 * null when the foot cannot be found.
 */
export function conicDistance(u: number, v: number, radius: number, e: number): number | null {
  return distanceToConic(u, v, radius, e, new Float64Array(4), 0) ? distanceOut : null;
}

let distanceOut = 0;

/**
 * Signed distance (positive outside) of a point from the conic v² = 2 R u − e u² into `distanceOut`, its derivatives by
 * (u0, v0, R, e) into `derivative`. Newton's method on the foot and its multiplier from the first-order foot.
 */
function distanceToConic(pu: number, pv: number, R: number, e: number, derivative: Float64Array, at: number): boolean {
  let u = pu;
  let v = pv;
  for (let step = 0; step < 30; step++) {
    const f = v * v + e * u * u - 2 * R * u;
    const fu = 2 * e * u - 2 * R;
    const fv = 2 * v;
    const across = (pu - u) * fv - (pv - v) * fu;
    const acrossU = -fv - (pv - v) * 2 * e;
    const acrossV = (pu - u) * 2 + fu;
    const det = fu * acrossV - fv * acrossU;
    if (det === 0 || !Number.isFinite(det)) return false;
    let du = -(f * acrossV - fv * across) / det;
    let dv = -(fu * across - f * acrossU) / det;
    const size = Math.hypot(du, dv);
    const limit = 0.5 * R + 0.5 * Math.abs(v);
    if (size > limit) {
      du *= limit / size;
      dv *= limit / size;
    }
    u += du;
    v += dv;
    if (size <= 1e-13 * R) break;
  }
  const fu = 2 * e * u - 2 * R;
  const fv = 2 * v;
  const gradient = Math.hypot(fu, fv);
  if (!(gradient > 0)) return false;
  const nu = fu / gradient;
  const nv = fv / gradient;
  distanceOut = (pu - u) * nu + (pv - v) * nv;
  derivative[at] = -nu;
  derivative[at + 1] = -nv;
  derivative[at + 2] = (-2 * u) / gradient;
  derivative[at + 3] = (u * u) / gradient;
  return Number.isFinite(distanceOut);
}
