import { type RunContext, throwIfCancelled } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import type { StockCells } from '../model/stock-cells.ts';
import type { Solve } from './linear-programme.ts';
import { type AxisBounds, insideBounds } from './share-axes.ts';
import { isBetter, type Merit, meritOf } from './share-merit.ts';
import type { StockRows } from './share-rows.ts';
import { emptyLesson, learnSlopes, type SlopeLesson, taughtRows } from './share-secant.ts';
import { type SharedStep, sharedStep } from './share-step.ts';

/** First and largest trust region (mm). */
const TRUST = 0.5;
/** Trust region below which the second order is too small to mend (mm). */
const LEAST_MENDED = 0.01;
/** Trust region after what was learned has been forgotten (mm). */
const RETRY_TRUST = 0.1;

/** A placement and its stock. */
export interface StockPoint {
  values: Float64Array;
  pose: Pose;
  cells: StockCells;
  rows: StockRows;
  merit: Merit;
}

/** Where a descent ended; `converged` false: its steps ran out. */
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
 * region is made smaller. Slopes are those of the blank's motion along the normals and what steps have taught; when these
 * promise no step as long as the tie, they are forgotten, and the search ends when nothing comes of that either.
 * @throws `cancelled`, `fault/solver`
 */
export async function shareDescent(start: StockPoint, aids: DescentAids, context: RunContext): Promise<Descent> {
  const { tie } = aids;
  let at = start;
  // What the leading limits have reached; later levels may not pay for themselves with it, step by step.
  let lead = start.merit;
  let trust = TRUST;
  let lesson = emptyLesson(start.cells.count);
  let forgotten = false;
  let failures = 0;
  for (let iterations = 1; iterations <= aids.steps; iterations++) {
    throwIfCancelled(context);
    if (aids.isKnown(at)) return { point: at, iterations, converged: true };
    const rows = taughtRows(at.rows, lesson);
    const { step } = stepFrom(rows, at.values, aids, trust);
    const size = step.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
    const isHopeful = size >= tie && isBetter(meritOf(rows, step), at.merit, tie);
    const end = isHopeful ? await tried(at, step, { ...aids, lesson, lead, trust }) : null;
    if (end !== null) {
      if (isBetter(end.point.merit, lead, tie)) lead = end.point.merit;
      if (!end.isMended && size > 0.99 * trust) trust = Math.min(2 * trust, TRUST);
      at = end.point;
      forgotten = false;
      failures = 0;
      continue;
    }
    trust = size / (failures === 0 ? 2 : 4);
    failures++;
    if (isHopeful && trust >= tie) continue;
    if (forgotten || lesson.steps === 0) return { point: at, iterations, converged: true };
    lesson = emptyLesson(start.cells.count);
    trust = RETRY_TRUST;
    failures = 0;
    forgotten = true;
  }
  return { point: at, iterations: aids.steps, converged: false };
}

/** The step of linear rows within a trust region and the bounds of the axes. */
export function stepFrom(
  rows: StockRows,
  values: Float64Array,
  { solve, bounds }: Pick<DescentAids, 'solve' | 'bounds'>,
  trust: number,
): SharedStep {
  const lower = values.map((value, k) => Math.min(0, Math.max(-trust, (bounds.low[k] - value) / rows.unit[k])));
  const upper = values.map((value, k) => Math.max(0, Math.min(trust, (bounds.high[k] - value) / rows.unit[k])));
  return sharedStep(solve, rows, lower, upper);
}

interface Trial extends DescentAids {
  lesson: SlopeLesson;
  lead: Merit;
  trust: number;
}

/** The placement a step leads to where it is better, by itself or after one more step; else null. */
async function tried(
  at: StockPoint,
  step: Float64Array,
  trial: Trial,
): Promise<{ point: StockPoint; isMended: boolean } | null> {
  const { lesson, bounds, trust } = trial;
  const first = await trial.evaluate(moved(at, step, bounds));
  learnSlopes(lesson, at, first);
  if (accepts(first, at, trial)) return { point: first, isMended: false };
  if (trust < LEAST_MENDED) return null;
  const mending = stepFrom(taughtRows(first.rows, lesson), first.values, trial, trust).step;
  const second = await trial.evaluate(moved(first, mending, bounds));
  learnSlopes(lesson, first, second);
  return accepts(second, at, trial) ? { point: second, isMended: true } : null;
}

function accepts(trial: StockPoint, at: StockPoint, { lead, tie }: Pick<Trial, 'lead' | 'tie'>): boolean {
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
