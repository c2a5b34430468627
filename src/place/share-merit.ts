import { rowChange, type StockRows } from './share-rows.ts';

/** Least spare stock of a zone, by the zone's index. */
export interface ZoneSpare {
  zone: number;
  spare: number;
}

/** How good a placement is, the first that differs deciding. Lengths in mm. */
export interface Merit {
  /** Least spare where it is negative, else 0: a blank has to clean up first. */
  clean: number;
  /** Stock beyond the most allowed, 0 or more. */
  excess: number;
  /** Least spare of each measured zone, the tightest first. */
  levels: ZoneSpare[];
  /** Root mean square of the spare by area. */
  uneven: number;
}

const NO_STEP = new Float64Array(6);

/** Returns the merit of a placement, or of a step from it by the linear rows. */
export function meritOf(rows: StockRows, step: ArrayLike<number> = NO_STEP): Merit {
  const { zones, zone, slope } = rows;
  const least = new Float64Array(zones.length).fill(Number.POSITIVE_INFINITY);
  let [excess, squares, area] = [0, 0, 0];
  for (let i = 0; i < rows.count; i++) {
    const { weight, most } = zones[zone[i]];
    const change = rowChange(slope, i, step);
    const spare = rows.spare[i] + change / weight;
    if (spare < least[zone[i]]) least[zone[i]] = spare;
    if (most !== null) excess = Math.max(excess, rows.stock[i] + change - most);
    squares += rows.area[i] * spare * spare;
    area += rows.area[i];
  }
  const levels = Array.from(least, (spare, index) => ({ zone: index, spare })).filter(({ spare }) => spare < Infinity);
  levels.sort((a, b) => a.spare - b.spare);
  return { clean: Math.min(0, levels[0].spare), excess, levels, uneven: Math.sqrt(squares / area) };
}

/**
 * Whether a placement is better than another: cleans up by more, exceeds by less, its tightest zone has more spare, then
 * the next one, and at last the spare is more even. Differences up to `tie` do not decide.
 */
export function isBetter(a: Merit, b: Merit, tie: number): boolean {
  const firsts = [a.clean - b.clean, b.excess - a.excess, ...a.levels.map((level, k) => gain(level, b.levels[k]))];
  const decisive = firsts.find((difference) => Math.abs(difference) > tie);
  return decisive === undefined ? b.uneven - a.uneven > 0.01 * tie : decisive > 0;
}

function gain(level: ZoneSpare, other: ZoneSpare | undefined): number {
  return other === undefined ? 0 : level.spare - other.spare;
}
