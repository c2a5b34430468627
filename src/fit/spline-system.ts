import {
  addCyclic,
  type CyclicMatrix,
  cyclicMatrix,
  entryCyclic,
  factorCyclic,
  solveCyclic,
} from '../math/banded-cyclic.ts';
import { type ClosedKnots, cubicBasis, cubicThird, knotSpan } from './closed-basis.ts';

/** Sums a span: 10 index pairs × (weight · N N · [nx nx, nx ny, ny ny, 1]), then 4 × right sides [normal x, y, plain x, y]. */
export const SPAN_SUMS = 56;

/** One linear least-squares step of a closed cubic spline: points, their parameters and normals, and sums over spans. */
export interface SplineSystem {
  closed: ClosedKnots;
  points: Float64Array;
  parameters: Float64Array;
  /** Knot span of each point and its four basis values. */
  span: Int32Array;
  basis: Float64Array;
  /** Unit normals at the feet, x0, y0, … */
  normals: Float64Array;
  sums: Float64Array;
  /** Weighted sum of squares of the points' normal components. */
  square: number;
}

/**
 * Returns the sums for points with given feet. The residual is the normal component; the tangential one enters with a
 * small share when solved (tangent distance minimisation with damping; Wang, Pottmann & Liu, ACM TOG 25, 2006).
 * @param parameters parameter of each point within the period
 * @param normals unit normals at the feet
 * @param weights one a point
 */
export function splineSystem(
  closed: ClosedKnots,
  points: Float64Array,
  parameters: Float64Array,
  normals: Float64Array,
  weights: Float64Array,
): SplineSystem {
  const count = parameters.length;
  const span = new Int32Array(count);
  const basis = new Float64Array(4 * count);
  const sums = new Float64Array(closed.knots.length * SPAN_SUMS);
  let square = 0;
  for (let i = 0; i < count; i++) {
    const k = knotSpan(closed, parameters[i]);
    span[i] = k;
    cubicBasis(closed, k, parameters[i], basis, 4 * i);
    const w = weights[i];
    if (w === 0) continue;
    const nx = normals[2 * i];
    const ny = normals[2 * i + 1];
    const x = points[2 * i];
    const y = points[2 * i + 1];
    const xx = nx * nx;
    const xy = nx * ny;
    const yy = ny * ny;
    const off = nx * x + ny * y;
    square += w * off * off;
    let at = k * SPAN_SUMS;
    for (let a = 0; a < 4; a++) {
      const wa = w * basis[4 * i + a];
      for (let b = a; b < 4; b++) {
        const value = wa * basis[4 * i + b];
        sums[at] += value * xx;
        sums[at + 1] += value * xy;
        sums[at + 2] += value * yy;
        sums[at + 3] += value;
        at += 4;
      }
    }
    for (let a = 0; a < 4; a++) {
      const wa = w * basis[4 * i + a];
      sums[at] += wa * nx * off;
      sums[at + 1] += wa * ny * off;
      sums[at + 2] += wa * x;
      sums[at + 3] += wa * y;
      at += 4;
    }
  }
  return { closed, points, parameters, span, basis, normals, sums, square };
}

/** The solved step: control points interleaved x0, y0, x1, …, and the factor of the normal matrix. */
export interface SplineSolution {
  controls: Float64Array;
  factor: CyclicMatrix;
}

/**
 * Solves for the control points. Returns null when the matrix is not positive definite.
 * @param smoothing weight of |C''' − target|² · span length, one a knot span
 * @param tangential share of the tangential component, 0 … 1
 * @param targets third derivative a span is drawn to, x0, y0, …; none where absent
 */
export function solveSpline(
  system: SplineSystem,
  smoothing: Float64Array,
  tangential: number,
  targets?: Float64Array,
): SplineSolution | null {
  const { closed, sums } = system;
  const n = closed.knots.length;
  const size = 2 * n;
  const factor = cyclicMatrix(size, 7, 6);
  const controls = new Float64Array(size);
  const third = new Float64Array(4);
  for (let k = 0; k < n; k++) {
    const length = closed.extended[k + 4] - closed.extended[k + 3];
    if (length <= 0) continue;
    cubicThird(closed, k, third);
    const q = smoothing[k] * length;
    let at = k * SPAN_SUMS;
    for (let a = 0; a < 4; a++) {
      const i = 2 * ((k - 3 + a + n) % n);
      for (let b = a; b < 4; b++) {
        const j = 2 * ((k - 3 + b + n) % n);
        const plain = tangential * sums[at + 3] + q * third[a] * third[b];
        const cross = (1 - tangential) * sums[at + 1];
        addCyclic(factor, i, j, (1 - tangential) * sums[at] + plain);
        addCyclic(factor, i + 1, j + 1, (1 - tangential) * sums[at + 2] + plain);
        addCyclic(factor, i, j + 1, cross);
        if (a !== b) addCyclic(factor, i + 1, j, cross);
        at += 4;
      }
    }
    for (let a = 0; a < 4; a++) {
      const i = 2 * ((k - 3 + a + n) % n);
      controls[i] += (1 - tangential) * sums[at] + tangential * sums[at + 2];
      controls[i + 1] += (1 - tangential) * sums[at + 1] + tangential * sums[at + 3];
      if (targets) {
        controls[i] += q * third[a] * targets[2 * k];
        controls[i + 1] += q * third[a] * targets[2 * k + 1];
      }
      at += 4;
    }
  }
  if (!factorCyclic(factor)) return null;
  solveCyclic(factor, controls);
  return { controls, factor };
}

/** Writes the normal residuals n · (C − p) of all points and returns their weighted sum of squares. */
export function normalResiduals(
  system: SplineSystem,
  controls: Float64Array,
  weights: Float64Array,
  out: Float64Array,
): number {
  const { closed, span, basis, normals, points } = system;
  const n = closed.knots.length;
  let sum = 0;
  for (let i = 0; i < span.length; i++) {
    let x = -points[2 * i];
    let y = -points[2 * i + 1];
    let c = span[i] - 3;
    if (c < 0) c += n;
    for (let a = 0; a < 4; a++) {
      x += basis[4 * i + a] * controls[2 * c];
      y += basis[4 * i + a] * controls[2 * c + 1];
      if (++c === n) c = 0;
    }
    out[i] = x * normals[2 * i] + y * normals[2 * i + 1];
    sum += weights[i] * out[i] * out[i];
  }
  return sum;
}

/** Returns the weighted sum of squares of the normal residuals from the sums alone, whatever the number of points. */
export function normalSquares(system: SplineSystem, controls: Float64Array): number {
  const n = system.closed.knots.length;
  const { sums } = system;
  let sum = system.square;
  for (let k = 0, at = 0; k < n; k++) {
    for (let a = 0; a < 4; a++) {
      const i = 2 * ((k - 3 + a + n) % n);
      for (let b = a; b < 4; b++) {
        const j = 2 * ((k - 3 + b + n) % n);
        const part =
          sums[at] * controls[i] * controls[j] +
          sums[at + 1] * (controls[i] * controls[j + 1] + controls[i + 1] * controls[j]) +
          sums[at + 2] * controls[i + 1] * controls[j + 1];
        sum += a === b ? part : 2 * part;
        at += 4;
      }
    }
    for (let a = 0; a < 4; a++) {
      const i = 2 * ((k - 3 + a + n) % n);
      sum -= 2 * (sums[at] * controls[i] + sums[at + 1] * controls[i + 1]);
      at += 4;
    }
  }
  return Math.max(0, sum);
}

/** Returns the effective number of parameters in the normal direction, a span each: trace of data matrix × inverse matrix. */
export function effectiveParameters(system: SplineSystem, inverse: CyclicMatrix): Float64Array {
  const { closed, sums } = system;
  const n = closed.knots.length;
  const trace = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    let at = k * SPAN_SUMS;
    if (closed.extended[k + 4] <= closed.extended[k + 3]) continue;
    for (let a = 0; a < 4; a++) {
      const i = 2 * ((k - 3 + a + n) % n);
      for (let b = a; b < 4; b++) {
        const j = 2 * ((k - 3 + b + n) % n);
        const part =
          sums[at] * entryCyclic(inverse, i, j) +
          sums[at + 1] * (entryCyclic(inverse, i, j + 1) + entryCyclic(inverse, i + 1, j)) +
          sums[at + 2] * entryCyclic(inverse, i + 1, j + 1);
        trace[k] += a === b ? part : 2 * part;
        at += 4;
      }
    }
  }
  return trace;
}
