import { fitCircle } from './circle-fit.ts';
import { leastSquares } from './least-squares.ts';
import { planeLength } from './plane-length.ts';

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
      if (!distanceToConic(u[i] - p[0], v[i] - p[1], p[2], fixedE ?? p[3], row)) return false;
      residual[i] = foot[0];
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
      derivative[4 * i] = -1;
      derivative[4 * i + 1] = -u[i];
      derivative[4 * i + 2] = -u[i] * u[i];
      derivative[4 * i + 3] = -v[i];
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

/** A `NoseConic` whose axis was found too: unit vector from the nose into the body, covariance with its turn, 5 × 5. */
export interface FreeConic extends Omit<NoseConic, 'covariance'> {
  axisX: number;
  axisY: number;
  /** Covariance of (nose along the axis, nose across it, turn of the axis, radius, e) for unit variance of one point. */
  covariance: Float64Array;
}

/**
 * Returns the conic with the least sum of squared orthogonal distances, its axis free to turn about the given start, or
 * null when it cannot be found. Gauss-Newton from the conic of the given axis. A circle has no axis: it is refused.
 * @param axisX,axisY unit vector roughly along the axis from the nose into the body
 */
export function fitFreeConic(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights: ArrayLike<number> | undefined,
  axisX: number,
  axisY: number,
): FreeConic | null {
  const start = fitNoseConic(x, y, weights, axisX, axisY);
  if (!start || Math.abs(start.e - 1) < 0.02) return null;
  const n = x.length;
  const { noseX, noseY } = start;
  const local = new Float64Array(4);
  const distances = (p: Float64Array, residual: Float64Array, derivative: Float64Array): boolean => {
    if (!(p[3] > 0) || Math.abs(p[2]) > 1) return false;
    const c = Math.cos(p[2]);
    const s = Math.sin(p[2]);
    for (let i = 0; i < n; i++) {
      const du = (x[i] - noseX) * axisX + (y[i] - noseY) * axisY - p[0];
      const dv = (y[i] - noseY) * axisX - (x[i] - noseX) * axisY - p[1];
      const u = c * du + s * dv;
      const v = c * dv - s * du;
      if (!distanceToConic(u, v, p[3], p[4], local)) return false;
      residual[i] = foot[0];
      derivative[5 * i] = c * local[0] - s * local[1];
      derivative[5 * i + 1] = s * local[0] + c * local[1];
      derivative[5 * i + 2] = local[1] * u - local[0] * v;
      derivative[5 * i + 3] = local[2];
      derivative[5 * i + 4] = local[3];
    }
    return true;
  };
  const r = start.radius;
  const fit = leastSquares([0, 0, 0, r, start.e], n, distances, weights, [r, r, 1, r, 1]);
  if (!fit?.converged) return null;
  const [du, dv, turn, radius, e] = fit.parameters;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += weights ? weights[i] : 1;
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  return {
    noseX: noseX + du * axisX - dv * axisY,
    noseY: noseY + du * axisY + dv * axisX,
    axisX: c * axisX - s * axisY,
    axisY: c * axisY + s * axisX,
    radius,
    e,
    rms: Math.sqrt(fit.cost / sum),
    covariance: turnedCovariance(fit.covariance, c, s),
    converged: fit.converged,
    iterations: fit.iterations,
  };
}

/** The 5 × 5 covariance with the nose's two coordinates turned into the found axis. */
function turnedCovariance(given: Float64Array, c: number, s: number): Float64Array {
  const out = Float64Array.from(given);
  for (let k = 0; k < 5; k++) {
    const a = out[k];
    const b = out[5 + k];
    out[k] = c * a + s * b;
    out[5 + k] = c * b - s * a;
  }
  for (let k = 0; k < 5; k++) {
    const a = out[5 * k];
    const b = out[5 * k + 1];
    out[5 * k] = c * a + s * b;
    out[5 * k + 1] = c * b - s * a;
  }
  return out;
}

/**
 * Returns the signed distance (positive outside) of a point from the conic v² = 2 R u − e u², its nose at the origin, or
 * null when the foot cannot be found.
 */
export function conicDistance(u: number, v: number, radius: number, e: number): number | null {
  return distanceToConic(u, v, radius, e, unused) ? foot[0] : null;
}

/** Returns the foot (u, v) of a point on the conic; the point itself where none is found. */
export function conicFoot(u: number, v: number, radius: number, e: number): [number, number] {
  return distanceToConic(u, v, radius, e, unused) ? [foot[1], foot[2]] : [u, v];
}

const unused = new Float64Array(4);
/** Distance of the point last looked at and its foot: kept in an array, as a number of the module would be made anew. */
const foot = new Float64Array(3);

/**
 * Signed distance (positive outside) of a point from the conic v² = 2 R u − e u² into `foot`, its derivatives by (u0, v0, R,
 * e) into `derivative`. Newton's method on the foot and its multiplier from the first-order foot.
 */
function distanceToConic(pu: number, pv: number, R: number, e: number, derivative: Float64Array): boolean {
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
    const size = planeLength(du, dv);
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
  const gradient = planeLength(fu, fv);
  if (!(gradient > 0)) return false;
  foot[1] = u;
  foot[2] = v;
  const nu = fu / gradient;
  const nv = fv / gradient;
  foot[0] = (pu - u) * nu + (pv - v) * nv;
  derivative[0] = -nu;
  derivative[1] = -nv;
  derivative[2] = (-2 * u) / gradient;
  derivative[3] = (u * u) / gradient;
  return Number.isFinite(foot[0]);
}
