import { uncertaintyOf } from '../judge/budget.ts';
import { expectedMaximum } from '../judge/expected-maximum.ts';
import type { Plan } from '../model/plan.ts';
import type { StockCells, StockZone } from '../model/stock-cells.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import type { JoinedStockCells } from './stock-cells.ts';
import type { StockMap } from './stock-map.ts';

/** What noise alone may do to each stock cell: the field without it, and its standard deviation (mm). */
export interface CellNoise {
  calm: Float64Array;
  sd: Float64Array;
}

/** Returns for each stock cell the mean of the calm field and the noise found in its cells of the map. */
export function cellNoise(cells: JoinedStockCells, map: StockMap): CellNoise {
  const calm = new Float64Array(cells.count);
  const sd = new Float64Array(cells.count);
  const seen = new Float64Array(cells.count);
  for (let m = 0; m < map.calm.length; m++) {
    if (!Number.isFinite(map.calm[m])) continue;
    const k = cells.ofMapCell[m];
    seen[k] += map.area[m];
    calm[k] += map.area[m] * map.calm[m];
    sd[k] += map.area[m] * map.noiseShare[m];
  }
  for (let k = 0; k < cells.count; k++) {
    calm[k] /= seen[k];
    sd[k] *= cells.uStock[k] / seen[k];
  }
  return { calm, sd };
}

/** An extreme of the stock: its cell, the stock there, and what noise adds to the extreme; value = raw − bias (mm). */
export interface StockExtreme {
  cell: number;
  raw: number;
  bias: number;
  value: number;
}

/**
 * Returns the highest (sign +1) or lowest (sign −1) of some stock cells, corrected for what noise alone adds to an
 * extreme: bias = E[max(calm + noise)] − max(calm), the cells' noise being independent and normal.
 * @param chosen numbers of stock cells, unmeasured ones left out by the caller or not
 * @returns null when none is measured
 */
export function extremeStock(
  cells: StockCells,
  noise: CellNoise,
  chosen: readonly number[],
  sign: 1 | -1,
): StockExtreme | null {
  const held = chosen.filter((k) => Number.isFinite(cells.stock[k]));
  if (held.length === 0) return null;
  const cell = held.reduce((best, k) => (sign * cells.stock[k] > sign * cells.stock[best] ? k : best));
  const mean = Float64Array.from(held, (k) => sign * noise.calm[k]);
  const sd = Float64Array.from(held, (k) => noise.sd[k]);
  const calmest = mean.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const bias = sign * Math.max(0, expectedMaximum(mean, sd) - calmest);
  const raw = cells.stock[cell];
  return { cell, raw, bias, value: raw - bias };
}

/** Returns the chord of the middle section from edge to edge (mm). */
export function middleChordOf(surface: NominalSurface): number {
  const { heights, columns } = surface;
  const middle = (heights[0] + heights[heights.length - 1]) / 2;
  const edge = new Float64Array(PLACE_SIZE);
  const other = new Float64Array(PLACE_SIZE);
  evaluateSurface(surface, 0, middle, edge);
  evaluateSurface(surface, columns[0], middle, other);
  return Math.hypot(edge[0] - other[0], edge[1] - other[1]);
}

/** Returns the standard uncertainty of all stock alike, by what the plan states of the equipment (mm). */
export function statedUncertainty(surface: NominalSurface, plan: Plan | null): number {
  return stockUncertainty(0, middleChordOf(surface), plan) ?? 0;
}

/**
 * Returns what a stock has to spare at stock cell `k` of a zone: less the zone's least and its guard (mm).
 * @param factor times the uncertainty of the cell that the guard is
 * @param stated standard uncertainty of all stock alike (mm)
 */
export function spareStock(
  stock: number,
  cells: StockCells,
  k: number,
  zones: readonly StockZone[],
  factor: number,
  stated: number,
): number {
  return stock - zones[cells.zone[k]].least - factor * Math.hypot(cells.uStock[k], stated);
}

/**
 * Returns the standard uncertainty of stock at a place with what the plan states of the equipment (mm).
 * @param chord of the middle section (mm), which expansion acts on
 */
export function stockUncertainty(random: number, chord: number, plan: Plan | null): number | null {
  return uncertaintyOf(0, random, 'profile', { chord, perimeter: null, momentGain: null }, plan).u;
}
