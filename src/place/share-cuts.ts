import { CamberwrightError } from '../error.ts';
import type { Programme, Solve } from './linear-programme.ts';
import { rowChange, type StockRows } from './share-rows.ts';

/** Columns: six scaled values of the step, then the level that is raised or lowered. */
export const COLUMNS = 7;
const LEVEL = 6;

/** A programme over all rows of a placement. Lengths in mm. */
export interface RowProgramme {
  cost: Float64Array;
  lower: Float64Array;
  upper: Float64Array;
  /** Least spare of each zone; by the level itself where `raised` is 1. */
  floor: Float64Array;
  raised: Uint8Array;
  /** Most stock of each zone, Infinity for none, and whether the level is added to it. */
  cap: Float64Array;
  eased: boolean;
}

/** Rows that have held a programme before: row × 2, + 1 for the limit of most stock. Kept from one programme to the next. */
export type Cuts = Set<number>;

/** The solution of a programme over the rows of a placement. */
export interface RowSolution {
  /** Step and level. */
  x: Float64Array;
  /** Rows that hold it with their duals, coded as {@link Cuts}. */
  holds: Map<number, number>;
}

/** Rows beyond their limit by less than this are kept (mm). */
const SLACK = 1e-8;
/** Rows of a zone and limit that are added in one pass. */
const ADDED = 40;
const PASSES = 80;

/**
 * Returns the solution of a programme over all rows by cutting planes: solved over the rows known to hold, those beyond
 * are added until there are none (Kelley 1960). Null when the solver finds none.
 * @throws `fault/solver` when rows are still beyond after many passes
 */
export function solveRows(solve: Solve, rows: StockRows, programme: RowProgramme, cuts: Cuts): RowSolution | null {
  let x = new Float64Array(COLUMNS);
  if (cuts.size === 0) addCuts(rows, programme, x, cuts, Number.NEGATIVE_INFINITY);
  for (let pass = 0; pass < PASSES; pass++) {
    const list = [...cuts].filter((cut) => limitOf(rows, programme, cut) > Number.NEGATIVE_INFINITY);
    const found = solve(denseProgramme(rows, programme, list));
    if (found.status !== 'optimal') return null;
    x = Float64Array.from(found.x);
    if (addCuts(rows, programme, x, cuts, SLACK) > 0) continue;
    const holds = new Map<number, number>();
    list.forEach((cut, k) => {
      if (Math.abs(found.rowDual[k]) > 1e-9) holds.set(cut, Math.abs(found.rowDual[k]));
    });
    return { x, holds };
  }
  throw new CamberwrightError('fault/solver', `No stock shared within ${PASSES} passes over the cells.`, {
    remedy: 'Report this with the files that led to it.',
  });
}

/** Least value of a row's left side: spare + change / weight − level, or −stock − change + level. */
function limitOf(rows: StockRows, { floor, cap }: RowProgramme, cut: number): number {
  const row = cut >> 1;
  return (cut & 1) === 0 ? floor[rows.zone[row]] - rows.spare[row] : rows.stock[row] - cap[rows.zone[row]];
}

function denseProgramme(rows: StockRows, programme: RowProgramme, list: number[]): Programme {
  const matrix = new Float64Array(COLUMNS * list.length);
  list.forEach((cut, k) => {
    const row = cut >> 1;
    const zone = rows.zone[row];
    const least = (cut & 1) === 0;
    const scale = least ? 1 / rows.zones[zone].weight : -1;
    for (let c = 0; c < 6; c++) matrix[COLUMNS * k + c] = scale * rows.slope[6 * row + c];
    matrix[COLUMNS * k + LEVEL] = least ? -programme.raised[zone] : programme.eased ? 1 : 0;
  });
  return {
    columns: COLUMNS,
    rows: list.length,
    cost: programme.cost,
    columnLower: programme.lower,
    columnUpper: programme.upper,
    matrix,
    rowLower: Float64Array.from(list, (cut) => limitOf(rows, programme, cut)),
    rowUpper: new Float64Array(list.length).fill(Number.POSITIVE_INFINITY),
  };
}

/** Adds the rows farthest beyond their limit, of each zone and kind; returns how many were beyond by more than `slack`. */
function addCuts(rows: StockRows, programme: RowProgramme, x: Float64Array, cuts: Cuts, slack: number): number {
  const { zones, zone, slope } = rows;
  const worst = Array.from({ length: 2 * zones.length }, (): Worst => ({ by: [], cut: [] }));
  for (let i = 0; i < rows.count; i++) {
    const z = zone[i];
    const change = rowChange(slope, i, x);
    const short = programme.floor[z] + programme.raised[z] * x[LEVEL] - rows.spare[i] - change / zones[z].weight;
    const over = rows.stock[i] + change - programme.cap[z] - (programme.eased ? x[LEVEL] : 0);
    if (short > slack) keepWorst(worst[2 * z], short, 2 * i, cuts);
    if (over > slack) keepWorst(worst[2 * z + 1], over, 2 * i + 1, cuts);
  }
  const before = cuts.size;
  for (const { cut } of worst) for (const each of cut) cuts.add(each);
  return cuts.size - before;
}

/** Rows farthest beyond their limit, the farthest first. */
interface Worst {
  by: number[];
  cut: number[];
}

function keepWorst({ by, cut }: Worst, beyond: number, row: number, known: Cuts): void {
  if ((by.length === ADDED && beyond <= by[ADDED - 1]) || known.has(row)) return;
  let at = by.length;
  while (at > 0 && by[at - 1] < beyond) at--;
  by.splice(at, 0, beyond);
  cut.splice(at, 0, row);
  if (by.length > ADDED) {
    by.pop();
    cut.pop();
  }
}
