import { CamberwrightError } from '../error.ts';
import type { Solve } from './linear-programme.ts';
import { COLUMNS, type Cuts, type RowProgramme, type RowSolution, solveRows } from './share-cuts.ts';
import { interiorPoint } from './share-interior.ts';
import type { StockRows } from './share-rows.ts';

/** The step that is best by the linear rows, and what holds its tightest level. */
export interface SharedStep {
  /** Six scaled values (mm). */
  step: Float64Array;
  /** Rows that hold the least spare of all zones with their duals, coded as {@link Cuts}. */
  holds: Map<number, number>;
}

/** Room left below a level once reached, so that rounding cannot make the next programme infeasible (mm). */
const ROOM = 1e-6;
/** Cost of a step beside the evenness, so that what nothing holds stays where it is. */
const STILL = 1e-5;

/**
 * Returns the step within bounds that first cleans up, then keeps the most stock allowed, then raises the least spare of
 * all zones, then, with the zones that hold it kept there, the least of the others, and so on; what freedom is left makes
 * the spare even in the least squares sense. One solution comes of it.
 * @param lower, upper bounds of the six scaled values, 0 between them
 * @throws `fault/solver` when no programme of the step has a solution
 */
export function sharedStep(solve: Solve, rows: StockRows, lower: Float64Array, upper: Float64Array): SharedStep {
  const count = rows.zones.length;
  const cuts: Cuts = new Set();
  const seen = new Set(rows.zone);
  const base: RowProgramme = {
    cost: costOf(-1),
    lower: withLevel(lower, Number.NEGATIVE_INFINITY),
    upper: withLevel(upper, Number.POSITIVE_INFINITY),
    floor: new Float64Array(count),
    raised: new Uint8Array(count).fill(1),
    cap: new Float64Array(count).fill(Number.POSITIVE_INFINITY),
    eased: false,
  };
  let best: RowSolution | null = null;
  const next = (programme: RowProgramme, by: Solve = solve): RowSolution | null => {
    const found = solveRows(by, rows, programme, cuts);
    if (found !== null) best = found;
    return found;
  };
  if (rows.zones.some(({ most }) => most !== null)) base.cap = reachableCaps(next, rows, base);

  let first: RowSolution | null = null;
  const floor = base.floor.slice();
  const raised = Uint8Array.from(base.raised, (_, zone) => (seen.has(zone) ? 1 : 0));
  while (raised.includes(1)) {
    const found = next({ ...base, floor, raised });
    if (found === null) break;
    first ??= found;
    for (const cut of found.holds.keys()) {
      const zone = rows.zone[cut >> 1];
      if ((cut & 1) === 1 || raised[zone] === 0) continue;
      raised[zone] = 0;
      floor[zone] = found.x[6] - ROOM;
    }
  }
  if (!raised.includes(1)) {
    const { cost, hessian } = evenCost(rows);
    const still = { lower: withLevel(base.lower, 0), upper: withLevel(base.upper, 0) };
    next({ ...base, ...still, cost, floor, raised }, (programme) => interiorPoint(programme, hessian));
  }
  if (best === null || first === null) {
    throw new CamberwrightError('fault/solver', 'The stock could not be shared by a linear programme.', {
      remedy: 'Report this with the files that led to it.',
    });
  }
  return { step: (best as RowSolution).x.slice(0, 6), holds: first.holds };
}

/** Most stock of each zone, eased all alike as far as it must be once everything that can cleans up. */
function reachableCaps(
  next: (programme: RowProgramme) => RowSolution | null,
  rows: StockRows,
  base: RowProgramme,
): Float64Array {
  const clean = next({ ...base, upper: withLevel(base.upper, 0) });
  const cap = Float64Array.from(rows.zones, ({ most }) => most ?? Number.POSITIVE_INFINITY);
  const eased = next({
    ...base,
    cost: costOf(1),
    lower: withLevel(base.lower, 0),
    floor: base.floor.map(() => (clean?.x[6] ?? 0) - ROOM),
    raised: new Uint8Array(rows.zones.length),
    cap,
    eased: true,
  });
  return cap.map((value) => value + (eased?.x[6] ?? 0) + ROOM);
}

/** Cost of half the mean square spare by area. */
function evenCost(rows: StockRows): { cost: Float64Array; hessian: Float64Array } {
  const hessian = new Float64Array(COLUMNS * COLUMNS);
  const cost = new Float64Array(COLUMNS);
  const area = rows.area.reduce((sum, value) => sum + value, 0);
  for (let i = 0; i < rows.count; i++) {
    const { weight } = rows.zones[rows.zone[i]];
    for (let a = 0; a < 6; a++) {
      const slope = ((rows.area[i] / area) * rows.slope[6 * i + a]) / weight;
      cost[a] += slope * rows.spare[i];
      for (let b = 0; b < 6; b++) hessian[COLUMNS * a + b] += (slope * rows.slope[6 * i + b]) / weight;
    }
  }
  for (let a = 0; a < COLUMNS; a++) hessian[COLUMNS * a + a] += STILL;
  return { cost, hessian };
}

function costOf(level: number): Float64Array {
  return Float64Array.of(0, 0, 0, 0, 0, 0, level);
}

function withLevel(values: Float64Array, level: number): Float64Array {
  return Float64Array.of(...values.subarray(0, 6), level);
}
