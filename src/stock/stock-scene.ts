import type { Plan } from '../model/plan.ts';
import type { Place } from '../model/results.ts';
import type { NominalSurface } from '../model/surface.ts';
import type { SurfaceMap } from '../relate/surface-map.ts';
import { cellPlace } from './place-record.ts';
import type { JoinedStockCells } from './stock-cells.ts';
import { type CellNoise, cellNoise, middleChordOf, statedUncertainty, stockUncertainty } from './stock-extremes.ts';
import { type StockMap, stockMap } from './stock-map.ts';
import { type CellIntegrals, cellIntegrals } from './stock-volume.ts';
import { edgeReachOf, type StockZones, stockWanted } from './stock-zones.ts';

/** What the stock of a blank is told from, in one placement. */
export interface StockInput {
  surface: NominalSurface;
  map: SurfaceMap;
  /** From `stockCells` of the same map. */
  cells: JoinedStockCells;
  zones: StockZones;
  plan: Plan | null;
}

/** The input with what everything told of the stock works on. */
export interface StockScene extends StockInput {
  fine: StockMap;
  noise: CellNoise;
  integrals: CellIntegrals;
  /** Chord of the middle section (mm), which expansion acts on. */
  chord: number;
  /** Standard uncertainty of all stock alike, by what the plan states of the equipment (mm). */
  stated: number;
  /** Stock and its uncertainty on the map's cells, those of the stock cell where a small one has no point (mm). */
  filled: Float64Array;
  uFilled: Float64Array;
  /** Least stock wanted on the map's cells, NaN in no zone; and its guard for uncertainty (mm). */
  wanted: Float64Array;
  guard: Float64Array;
  placeOf: (cell: number) => Place;
  uOf: (cell: number) => number | null;
}

/** Returns the scene of a blank: calm field, zones, wants and curvature on the cells of its map. */
export function stockScene(input: StockInput): StockScene {
  const { surface, map, cells, zones, plan } = input;
  const fine = stockMap(map, zones.reaches, plan);
  const chord = middleChordOf(surface);
  const stated = statedUncertainty(surface, plan);
  const { factor } = stockWanted(plan);
  const count = fine.area.length;
  const filled = new Float64Array(count);
  const uFilled = new Float64Array(count);
  const wanted = new Float64Array(count).fill(Number.NaN);
  const guard = new Float64Array(count);
  for (let m = 0; m < count; m++) {
    const cell = cells.ofMapCell[m];
    const isOwn = Number.isFinite(map.deviation[m]);
    filled[m] = isOwn ? map.deviation[m] : cells.stock[cell];
    uFilled[m] = isOwn ? map.u[m] : cells.uStock[cell];
    if (fine.zone[m] >= 0) wanted[m] = zones.zones[fine.zone[m]].least;
    const random = Number.isFinite(cells.uStock[cell]) ? cells.uStock[cell] : map.u[m];
    guard[m] = factor * Math.hypot(random, stated);
  }
  return {
    ...input,
    fine,
    noise: cellNoise(cells, fine),
    integrals: cellIntegrals(surface, map.cells),
    chord,
    stated,
    filled,
    uFilled,
    wanted,
    guard,
    placeOf: (k) => cellPlace(surface, edgeReachOf(zones.reaches), cells, k),
    uOf: (k) => stockUncertainty(cells.uStock[k], chord, plan),
  };
}
