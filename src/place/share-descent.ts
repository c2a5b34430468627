import { type RunContext, throwIfCancelled } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import type { StockCells } from '../model/stock-cells.ts';
import type { Solve } from './linear-programme.ts';
import { type AxisBounds, insideBounds } from './share-axes.ts';
import { isBetter, type Merit, meritOf } from './share-merit.ts';
import type { StockRows } from './share-rows.ts';
import { type SharedStep, sharedStep } from './share-step.ts';

/** First and largest trust region (mm). */
const TRUST = 0.5;

/** A placement and its stock. */
export interface StockPoint {
  values: Float64Array;
  pose: Pose;
  cells: StockCells;
  rows: StockRows;
  merit: Merit;
}

export interface Descent {
  point: StockPoint;
  iterations: number;
  converged: boolean;
}

/** What a descent needs besides its start. */
export interface DescentAids {
  solve: Solve;
  bounds: AxisBounds;
  /** Stock at six values, exactly. */
  evaluate: (values: Float64Array) => Promise<StockPoint>;
  /** True ends the descent: it has come to a place that is known. */
  isKnown: (point: StockPoint) => boolean;
  /** Differences of spare stock that do not matter, and the smallest step (mm). */
  tie: number;
  /** Most steps. */
  steps: number;
}

/**
 * Returns the placement reached by successive linear programmes in a trust region: a step is taken when the stock
 * re-evaluated at its end is better; where it is not, one more step from there may mend it (second order); else the
 * region is halved. Ends when no step as long as the tie promises anything.
 */
export async function shareDescent(start: StockPoint, aids: DescentAids, context: RunContext): Promise<Descent> {
  const { tie } = aids;
  let at = start;
  // What the leading limits have reached; later levels may not pay for themselves with it, step by step.
  let lead = start.merit;
  let trust = TRUST;
  for (let iterations = 1; iterations <= aids.steps; iterations++) {
    throwIfCancelled(context);
    if (aids.isKnown(at)) return { point: at, iterations, converged: true };
    const step = stepFrom(at, aids, trust).step;
    const size = step.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    if (size < tie || !isBetter(meritOf(at.rows, step), at.merit, tie)) {
      return { point: at, iterations, converged: true };
    }
    const first = await aids.evaluate(moved(at, step, aids.bounds));
    const end = accepts(first, at, lead, tie) ? first : await mended(first, at, lead, aids, trust);
    if (end !== null) {
      if (isBetter(end.merit, lead, tie)) lead = end.merit;
      if (end === first && size > 0.99 * trust) trust = Math.min(2 * trust, TRUST);
      at = end;
    } else {
      trust = size / 2;
      if (trust < tie) return { point: at, iterations, converged: true };
    }
  }
  return { point: at, iterations: aids.steps, converged: false };
}

/** The step of the linear rows within a trust region and the bounds of the axes. */
export function stepFrom(at: StockPoint, { solve, bounds }: DescentAids, trust: number): SharedStep {
  const { unit } = at.rows;
  const lower = at.values.map((value, k) => Math.min(0, Math.max(-trust, (bounds.low[k] - value) / unit[k])));
  const upper = at.values.map((value, k) => Math.max(0, Math.min(trust, (bounds.high[k] - value) / unit[k])));
  return sharedStep(solve, at.rows, lower, upper);
}

async function mended(
  first: StockPoint,
  at: StockPoint,
  lead: Merit,
  aids: DescentAids,
  trust: number,
): Promise<StockPoint | null> {
  const second = await aids.evaluate(moved(first, stepFrom(first, aids, trust).step, aids.bounds));
  return accepts(second, at, lead, aids.tie) ? second : null;
}

function accepts(trial: StockPoint, at: StockPoint, lead: Merit, tie: number): boolean {
  const keeps = trial.merit.clean >= lead.clean - tie && trial.merit.excess <= lead.excess + tie;
  return keeps && isBetter(trial.merit, at.merit, tie) && !isBehind(trial.merit, lead, tie);
}

/** Whether the tightest zone has less than what was reached once, with the same excess. */
function isBehind(merit: Merit, lead: Merit, tie: number): boolean {
  const alike = Math.abs(merit.clean - lead.clean) <= tie && Math.abs(merit.excess - lead.excess) <= tie;
  return alike && merit.levels[0].spare < lead.levels[0].spare - tie;
}

function moved(at: StockPoint, step: Float64Array, bounds: AxisBounds): Float64Array {
  return insideBounds(
    at.values.map((value, k) => value + step[k] * at.rows.unit[k]),
    bounds,
  );
}
