import type { PlacedValue } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { extremeStock } from './stock-extremes.ts';
import type { StockScene } from './stock-scene.ts';
import { stockVolume } from './stock-volume.ts';

const STOCK_LEAST = 'STOCK-LEAST';
const STOCK_MOST = 'STOCK-MOST';
const STOCK_MEAN = 'STOCK-MEAN';
const STOCK_VOLUME = 'STOCK-VOLUME';
const NOTHING = 'No cell is measured.';

/** Returns the least (sign −1) or most (+1) stock of some stock cells with its place, raw extreme and bias beside it. */
export function placedExtreme(scene: StockScene, chosen: readonly number[], sign: 1 | -1): PlacedValue {
  const definition = sign < 0 ? STOCK_LEAST : STOCK_MOST;
  const { cells } = scene;
  const extreme = extremeStock(cells, scene.noise, chosen, sign);
  if (!extreme) return { ...unmeasured('not-measured', NOTHING, 'mm', definition), place: null };
  const { cell, value, raw, bias } = extreme;
  const evidence = { raw, bias, cells: chosen.length, points: cells.points[cell], areaMm2: cells.area[cell] };
  return { ...measured(value, scene.uOf(cell), 'mm', definition, { evidence }), place: scene.placeOf(cell) };
}

/** Returns the mean stock of some stock cells, weighted by area. */
export function meanStock(scene: StockScene, chosen: readonly number[]): Value {
  const { stock, uStock, area } = scene.cells;
  let [whole, sum, variance] = [0, 0, 0];
  for (const k of chosen) {
    if (!Number.isFinite(stock[k])) continue;
    whole += area[k];
    sum += area[k] * stock[k];
    variance += (area[k] * uStock[k]) ** 2;
  }
  if (whole === 0) return unmeasured('not-measured', NOTHING, 'mm', STOCK_MEAN);
  return measured(sum / whole, Math.hypot(Math.sqrt(variance) / whole, scene.stated), 'mm', STOCK_MEAN);
}

/** Returns the stock that 5, 50 and 95 % of the measured area stay below; null when nothing is measured. */
export function stockPercentiles(
  scene: StockScene,
  chosen: readonly number[],
): { p5: number; p50: number; p95: number } | null {
  const { stock, area } = scene.cells;
  const held = chosen.filter((k) => Number.isFinite(stock[k])).sort((a, b) => stock[a] - stock[b] || a - b);
  if (held.length === 0) return null;
  const whole = held.reduce((sum, k) => sum + area[k], 0);
  const below = (share: number): number => {
    let passed = 0;
    for (const k of held) {
      passed += area[k];
      if (passed >= share * whole) return stock[k];
    }
    return stock[held[held.length - 1]];
  };
  return { p5: below(0.05), p50: below(0.5), p95: below(0.95) };
}

/** Returns the volume to remove over cells of the map; what is not measured adds nothing and is told beside it. */
export function volumeOf(scene: StockScene, chosen: readonly number[]): Value {
  const { value, rate, random } = stockVolume(scene.integrals, scene.filled, scene.uFilled, chosen);
  let missing = 0;
  for (const m of chosen) if (!Number.isFinite(scene.filled[m])) missing += scene.integrals.area[m];
  const evidence = { notMeasuredMm2: missing };
  if (!chosen.some((m) => Number.isFinite(scene.filled[m])))
    return unmeasured('not-measured', NOTHING, 'mm3', STOCK_VOLUME);
  return measured(value, Math.hypot(random, scene.stated * rate), 'mm3', STOCK_VOLUME, { evidence });
}
