import { solveCyclic } from '../math/banded-cyclic.ts';
import type { FittedOutline, Outline, OutlineNoise } from '../model/outline.ts';
import { type ClosedKnots, closedKnots } from './closed-basis.ts';
import { evaluateOutline, wrapParameter } from './outline-evaluate.ts';
import { functionWeights } from './spline-functions.ts';

/** `gain` times the outward displacement of an outline at a parameter. */
export interface DisplacementTerm {
  t: number;
  gain: number;
}

/** What the control points add to the outward displacement at a parameter: first of four, and x0, y0, … of each. */
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
  { at, posterior }: OutlineNoise,
  terms: readonly DisplacementTerm[],
): number | null {
  if (!posterior) return null;
  const { factor, spread, joints } = posterior;
  const closed = closedKnots(outline.knots, outline.period);
  const sums = new Float64Array(2 * closed.knots.length);
  const shifts = new Float64Array(joints.length);
  for (const { t, gain } of terms) {
    addRow(sums, displacementRow(outline, closed, t), gain);
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
  const closed = closedKnots(outline.knots, outline.period);
  const points = Array.from(parameters, (t) => displacementRow(outline, closed, t));
  const rows = Array.from(at, (t) => displacementRow(outline, closed, t));
  const shifts = posterior.joints.map((moved) => at.map((t) => tableAt(outline.period, noise.at, moved, t)));
  return (normal) => {
    const controls = new Float64Array(2 * closed.knots.length);
    points.forEach((row, i) => {
      addRow(controls, row, weights[i] * posterior.spread * normal());
    });
    solveCyclic(posterior.factor, controls);
    const moved = Float64Array.from(rows, (row) => rowTimes(row, controls));
    for (const shift of shifts) {
      const size = normal();
      for (let i = 0; i < moved.length; i++) moved[i] += size * shift[i];
    }
    return moved;
  };
}

/** Value of a table over one period at a parameter, by straight lines between its places. */
export function tableAt(period: number, at: Float64Array, table: Float64Array, t: number): number {
  const n = at.length;
  const wrapped = t - period * Math.floor((t - at[0]) / period);
  let low = 0;
  let high = n;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (at[middle] <= wrapped) low = middle;
    else high = middle;
  }
  const next = low + 1 < n ? at[low + 1] : at[0] + period;
  const part = next > at[low] ? (wrapped - at[low]) / (next - at[low]) : 0;
  return table[low] + part * (table[(low + 1) % n] - table[low]);
}

const out = new Float64Array(8);

function displacementRow(outline: Outline, closed: ClosedKnots, t: number): DisplacementRow {
  const at = wrapParameter(outline, t);
  evaluateOutline(outline, at, out);
  const speed = Math.hypot(out[2], out[3]);
  const weights = new Float64Array(8);
  const vectors = [out[3] / speed, -out[2] / speed, 0, 0, 0, 0];
  const n = closed.knots.length;
  return { first: (functionWeights(closed, { t: at, vectors }, weights) - 3 + n) % n, weights };
}

function addRow(sums: Float64Array, { first, weights }: DisplacementRow, gain: number): void {
  for (let a = 0; a < 8; a++) sums[(2 * first + a) % sums.length] += gain * weights[a];
}

function rowTimes({ first, weights }: DisplacementRow, controls: Float64Array): number {
  let sum = 0;
  for (let a = 0; a < 8; a++) sum += weights[a] * controls[(2 * first + a) % controls.length];
  return sum;
}
