import { type CyclicMatrix, entryCyclic, solveCyclic } from '../math/banded-cyclic.ts';
import { type ClosedKnots, cubicBasis, cubicDerivatives, knotSpan } from './closed-basis.ts';
import { SPAN_SUMS, type SplineSystem } from './spline-system.ts';

/**
 * A linear function of a spline near a parameter: p · C + q · C' + r · C'', with the vectors p, q and r in this order.
 * `left` takes the span that ends at the parameter instead of the one that begins there.
 */
export interface SplineFunction {
  t: number;
  vectors: readonly number[];
  left?: boolean;
}

/** Writes what each of the four active control points adds to a function, x0, y0, …, and returns the knot span. */
export function functionWeights(closed: ClosedKnots, { t, vectors, left }: SplineFunction, out: Float64Array): number {
  const n = closed.knots.length;
  let k = knotSpan(closed, t);
  let at = t;
  if (left) {
    if (t <= closed.knots[0]) at = t + closed.period;
    k = knotSpan(closed, Math.min(at, closed.knots[n - 1]));
    while (k > 0 && closed.extended[k + 3] >= at) k--;
  }
  const basis = new Float64Array(12);
  cubicBasis(closed, k, at, basis, 0);
  cubicDerivatives(closed, k, at, basis.subarray(4));
  for (let a = 0; a < 4; a++)
    for (let axis = 0; axis < 2; axis++)
      out[2 * a + axis] =
        basis[a] * vectors[axis] + basis[4 + a] * vectors[2 + axis] + basis[8 + a] * vectors[4 + axis];
  return k;
}

/** Returns the variance factor v' A⁻¹ v of a linear function of the spline. */
export function functionVariance(closed: ClosedKnots, inverse: CyclicMatrix, of: SplineFunction): number {
  const n = closed.knots.length;
  const weights = new Float64Array(8);
  const k = functionWeights(closed, of, weights);
  const index = Array.from({ length: 8 }, (_, a) => 2 * ((k - 3 + (a >> 1) + n) % n) + (a & 1));
  let sum = 0;
  for (let a = 0; a < 8; a++)
    for (let b = 0; b < 8; b++) sum += weights[a] * weights[b] * entryCyclic(inverse, index[a], index[b]);
  return Math.max(0, sum);
}

/** Returns the value of a linear function of the spline with given control points, interleaved. */
export function functionValue(closed: ClosedKnots, controls: Float64Array, of: SplineFunction): number {
  const n = closed.knots.length;
  const weights = new Float64Array(8);
  const k = functionWeights(closed, of, weights);
  let sum = 0;
  for (let a = 0; a < 8; a++) sum += weights[a] * controls[2 * ((k - 3 + (a >> 1) + n) % n) + (a & 1)];
  return sum;
}

/**
 * Returns how a solved spline answers when the points of every span move by a cubic of that span: its control points. The
 * weights are those that the system was made with.
 * @param tangential share of the tangential component that it was solved with
 * @param cubicOn writes the four control points of the displacement (mm) over span k, x0, y0, …; false where there is none
 */
export function splineResponse(
  { closed, sums }: SplineSystem,
  factor: CyclicMatrix,
  tangential: number,
  cubicOn: (k: number, out: Float64Array) => boolean,
): Float64Array {
  const n = closed.knots.length;
  const controls = new Float64Array(2 * n);
  const moved = new Float64Array(8);
  for (let k = 0; k < n; k++) {
    if (closed.extended[k + 4] <= closed.extended[k + 3] || !cubicOn(k, moved)) continue;
    let at = k * SPAN_SUMS;
    for (let a = 0; a < 4; a++)
      for (let b = a; b < 4; b++, at += 4) {
        const plain = tangential * sums[at + 3];
        const xx = (1 - tangential) * sums[at] + plain;
        const xy = (1 - tangential) * sums[at + 1];
        const yy = (1 - tangential) * sums[at + 2] + plain;
        for (const [row, column] of a === b
          ? [[a, a]]
          : [
              [a, b],
              [b, a],
            ]) {
          const i = 2 * ((k - 3 + row + n) % n);
          controls[i] += xx * moved[2 * column] + xy * moved[2 * column + 1];
          controls[i + 1] += xy * moved[2 * column] + yy * moved[2 * column + 1];
        }
      }
  }
  solveCyclic(factor, controls);
  return controls;
}

/**
 * Returns the share of the tangential component that a factor was made with: only the normal one couples x and y, so that
 * it is told by the strongest coupling of a control point.
 */
export function tangentialShare({ closed, sums }: SplineSystem, factor: CyclicMatrix): number {
  const n = closed.knots.length;
  const couplings = new Float64Array(n);
  for (let k = 0; k < n; k++)
    for (let a = 0, at = k * SPAN_SUMS; a < 4; at += 4 * (4 - a), a++) couplings[(k - 3 + a + n) % n] += sums[at + 1];
  let strongest = 0;
  for (let i = 1; i < n; i++) if (Math.abs(couplings[i]) > Math.abs(couplings[strongest])) strongest = i;
  const [x, y] = [2 * strongest, 2 * strongest + 1];
  let product = 0;
  for (let m = 0; m <= x; m++) product += entryCyclic(factor, x, m) * entryCyclic(factor, y, m);
  return couplings[strongest] === 0 ? 0 : 1 - product / couplings[strongest];
}
