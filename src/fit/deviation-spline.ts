import {
  addCyclic,
  type CyclicMatrix,
  cyclicMatrix,
  entryCyclic,
  factorCyclic,
  solveCyclic,
} from '../math/banded-cyclic.ts';
import { type ClosedKnots, cubicBasis, cubicDerivatives, cubicThird, knotSpan } from './closed-basis.ts';

/** Sums a span: 10 index pairs of weight · N N, then 4 right sides. */
const SPAN_SUMS = 14;

/** Least squares of a closed cubic spline of one value to values at given places: the sums over spans. */
export interface ValueSystem {
  closed: ClosedKnots;
  /** Place and value of each point, its knot span and four basis values. */
  parameters: Float64Array;
  values: Float64Array;
  span: Int32Array;
  basis: Float64Array;
  sums: Float64Array;
  /** Weighted sum of squares of the values. */
  square: number;
  /** Third derivatives of the four basis functions of each span, and the spans' lengths; no length at repeated knots. */
  third: Float64Array;
  length: Float64Array;
}

/**
 * Returns the sums for values at places.
 * @param parameters within one period from the first knot
 */
export function valueSystem(closed: ClosedKnots, parameters: Float64Array, values: Float64Array): ValueSystem {
  const n = closed.knots.length;
  const count = parameters.length;
  const span = new Int32Array(count);
  const basis = new Float64Array(4 * count);
  for (let i = 0; i < count; i++) {
    span[i] = knotSpan(closed, parameters[i]);
    cubicBasis(closed, span[i], parameters[i], basis, 4 * i);
  }
  const third = new Float64Array(4 * n);
  const length = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    length[k] = closed.extended[k + 4] - closed.extended[k + 3];
    if (length[k] > 0) cubicThird(closed, k, third.subarray(4 * k, 4 * k + 4));
  }
  const sums = new Float64Array(n * SPAN_SUMS);
  return { closed, parameters, values, span, basis, sums, square: 0, third, length };
}

/** Sums up anew with the given weights, one a point. */
export function weighValues(system: ValueSystem, weights: Float64Array): void {
  const { span, basis, values, sums } = system;
  sums.fill(0);
  system.square = 0;
  for (let i = 0; i < span.length; i++) {
    const w = weights[i];
    if (w === 0) continue;
    system.square += w * values[i] * values[i];
    let at = span[i] * SPAN_SUMS;
    for (let a = 0; a < 4; a++) for (let b = a; b < 4; b++) sums[at++] += w * basis[4 * i + a] * basis[4 * i + b];
    for (let a = 0; a < 4; a++) sums[at++] += w * basis[4 * i + a] * values[i];
  }
}

/** A solved system: coefficients, and the factor of data matrix + smoothing. */
export interface ValueSolution {
  coefficients: Float64Array;
  factor: CyclicMatrix;
  /** Weighted squares of the residuals + smoothing of the spline. */
  penalised: number;
  /** Natural logarithm of the matrix's determinant. */
  logDeterminant: number;
}

/**
 * Solves for the coefficients; null when the matrix is not positive definite.
 * @param smoothing weight of |third derivative|² · span length, one a knot span
 */
export function solveValues(system: ValueSystem, smoothing: Float64Array): ValueSolution | null {
  const { sums, third, length } = system;
  const n = length.length;
  const factor = cyclicMatrix(n, 3, 3);
  const right = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    if (length[k] <= 0) continue;
    const q = smoothing[k] * length[k];
    let at = k * SPAN_SUMS;
    for (let a = 0; a < 4; a++) {
      const i = (k - 3 + a + n) % n;
      for (let b = a; b < 4; b++) {
        addCyclic(factor, i, (k - 3 + b + n) % n, sums[at++] + q * third[4 * k + a] * third[4 * k + b]);
      }
    }
    for (let a = 0; a < 4; a++) right[(k - 3 + a + n) % n] += sums[at++];
  }
  if (!factorCyclic(factor)) return null;
  const coefficients = right.slice();
  solveCyclic(factor, coefficients);
  let penalised = system.square;
  for (let i = 0; i < n; i++) penalised -= coefficients[i] * right[i];
  return { coefficients, factor, penalised: Math.max(0, penalised), logDeterminant: logDeterminant(factor) };
}

function logDeterminant({ size, band, border, bands, rows }: CyclicMatrix): number {
  let sum = 0;
  for (let j = 0; j < size - border; j++) sum += Math.log(bands[j * (band + 1)]);
  for (let r = 0; r < border; r++) sum += Math.log(rows[r * size + size - border + r]);
  return 2 * sum;
}

/** Returns the effective number of parameters: trace of data matrix × inverse matrix. */
export function effectiveValues({ sums, length }: ValueSystem, inverse: CyclicMatrix): number {
  const n = length.length;
  let trace = 0;
  for (let k = 0; k < n; k++) {
    let at = k * SPAN_SUMS;
    for (let a = 0; a < 4; a++) {
      for (let b = a; b < 4; b++) {
        const part = sums[at++] * entryCyclic(inverse, (k - 3 + a + n) % n, (k - 3 + b + n) % n);
        trace += a === b ? part : 2 * part;
      }
    }
  }
  return trace;
}

/** Writes spline − value at all points. */
export function valueResiduals(system: ValueSystem, coefficients: Float64Array, out: Float64Array): void {
  const { span, basis, values } = system;
  const n = coefficients.length;
  for (let i = 0; i < span.length; i++) {
    let sum = -values[i];
    for (let a = 0; a < 4; a++) sum += basis[4 * i + a] * coefficients[(span[i] - 3 + a + n) % n];
    out[i] = sum;
  }
}

/**
 * Writes the variance factors b' A⁻¹ b of the spline's value, slope and second derivative at a place within the period
 * into `out[0…2]`.
 */
export function valueVariances(closed: ClosedKnots, inverse: CyclicMatrix, t: number, out: Float64Array): void {
  const n = closed.knots.length;
  const k = knotSpan(closed, t);
  cubicBasis(closed, k, t, twelve, 0);
  cubicDerivatives(closed, k, t, eight);
  twelve.set(eight, 4);
  for (let order = 0; order < 3; order++) out[order] = Math.max(0, spanForm(inverse, twelve, 4 * order, k, n));
}

/** Returns v' A⁻¹ v for four numbers on the basis functions of a span. */
export function spanForm(inverse: CyclicMatrix, v: Float64Array, at: number, k: number, n: number): number {
  let sum = 0;
  for (let a = 0; a < 4; a++)
    for (let b = 0; b < 4; b++)
      sum += v[at + a] * v[at + b] * entryCyclic(inverse, (k - 3 + a + n) % n, (k - 3 + b + n) % n);
  return sum;
}

const twelve = new Float64Array(12);
const eight = new Float64Array(8);
