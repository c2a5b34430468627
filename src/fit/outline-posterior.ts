import { solveCyclic } from '../math/banded-cyclic.ts';
import type { FittedOutline, Outline, OutlineNoise, OutlinePosterior } from '../model/outline.ts';
import { closedKnots, cubicBasis, knotSpan } from './closed-basis.ts';
import { evaluateOutline, wrapParameter } from './outline-evaluate.ts';
import { functionWeights } from './spline-functions.ts';

/** `gain` times the outward displacement of an outline at a parameter. */
export interface DisplacementTerm {
  t: number;
  gain: number;
}

/** What unknowns of the fit add to the outward displacement at a parameter: the first, and the gains of neighbours. */
interface DisplacementRow {
  first: number;
  weights: Float64Array;
}

/**
 * Returns the standard uncertainty of a sum of displacements of a fitted outline by the posterior covariance of the fit,
 * with all that errors at different places have in common; null where the outline was not fitted.
 */
export function displacementUncertainty(
  outline: Outline,
  noise: OutlineNoise,
  terms: readonly DisplacementTerm[],
): number | null {
  const { at, posterior } = noise;
  if (!posterior) return null;
  const { factor, spread, joints } = posterior;
  const rowAt = displacementRows(outline, at, posterior);
  const sums = new Float64Array(factor.size);
  const shifts = new Float64Array(joints.length);
  for (const { t, gain } of terms) {
    addRow(sums, rowAt(t), gain);
    joints.forEach((moved, j) => {
      shifts[j] += gain * tableAt(outline.period, at, moved, t);
    });
  }
  const solved = sums.slice();
  solveCyclic(factor, solved);
  let variance = 0;
  for (let i = 0; i < sums.length; i++) variance += spread * spread * sums[i] * solved[i];
  for (const shift of shifts) variance += shift * shift;
  return Math.sqrt(Math.max(0, variance));
}

/**
 * Returns a source of what fresh noise of the points does to a fitted outline: its outward displacement (mm) at
 * parameters, as the fit's own smoothing passes it on. An interpolated outline follows its points.
 * @param at parameters
 */
export function displacementDraws(fitted: FittedOutline, at: Float64Array): (normal: () => number) => Float64Array {
  const { outline, noise, parameters, weights } = fitted;
  const { posterior } = noise;
  if (!posterior)
    return (normal) => {
      const errors = noise.u.map((u) => u * normal());
      return at.map((t) => tableAt(outline.period, noise.at, errors, t));
    };
  const rowAt = displacementRows(outline, noise.at, posterior);
  const points = Array.from(parameters, rowAt);
  const rows = Array.from(at, rowAt);
  const shifts = posterior.joints.map((moved) => at.map((t) => tableAt(outline.period, noise.at, moved, t)));
  return (normal) => {
    const unknowns = new Float64Array(posterior.factor.size);
    points.forEach((row, i) => {
      addRow(unknowns, row, weights[i] * posterior.spread * normal());
    });
    solveCyclic(posterior.factor, unknowns);
    const moved = Float64Array.from(rows, (row) => rowTimes(row, unknowns));
    for (const shift of shifts) {
      const size = normal();
      for (let i = 0; i < moved.length; i++) moved[i] += size * shift[i];
    }
    return moved;
  };
}

/**
 * Value of a table over one period at a parameter, by straight lines between its places.
 * @param rise of the value over one period
 */
export function tableAt(period: number, at: Float64Array, table: Float64Array, t: number, rise = 0): number {
  const n = at.length;
  const wrapped = t - period * Math.floor((t - at[0]) / period);
  let low = 0;
  let high = n;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (at[middle] <= wrapped) low = middle;
    else high = middle;
  }
  const [next, value] = low + 1 < n ? [at[low + 1], table[low + 1]] : [at[0] + period, table[0] + rise];
  const part = next > at[low] ? (wrapped - at[low]) / (next - at[low]) : 0;
  return table[low] + part * (value - table[low]);
}

const out = new Float64Array(8);
const basis = new Float64Array(4);

function displacementRows(
  outline: Outline,
  at: Float64Array,
  { along }: OutlinePosterior,
): (t: number) => DisplacementRow {
  const { knots, period } = along ?? outline;
  const closed = closedKnots(knots, period);
  const n = knots.length;
  if (along)
    return (t) => {
      const place = tableAt(outline.period, at, along.places, t, period);
      const within = place - period * Math.floor((place - knots[0]) / period);
      const k = knotSpan(closed, within);
      cubicBasis(closed, k, within, basis, 0);
      return { first: (k - 3 + n) % n, weights: basis.slice() };
    };
  return (t) => {
    const wrapped = wrapParameter(outline, t);
    evaluateOutline(outline, wrapped, out);
    const speed = Math.hypot(out[2], out[3]);
    const weights = new Float64Array(8);
    const vectors = [out[3] / speed, -out[2] / speed, 0, 0, 0, 0];
    const k = functionWeights(closed, { t: wrapped, vectors }, weights);
    return { first: 2 * ((k - 3 + n) % n), weights };
  };
}

function addRow(sums: Float64Array, { first, weights }: DisplacementRow, gain: number): void {
  for (let a = 0; a < weights.length; a++) sums[(first + a) % sums.length] += gain * weights[a];
}

function rowTimes({ first, weights }: DisplacementRow, unknowns: Float64Array): number {
  let sum = 0;
  for (let a = 0; a < weights.length; a++) sum += weights[a] * unknowns[(first + a) % unknowns.length];
  return sum;
}
