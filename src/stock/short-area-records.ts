import type { ShortArea } from '../model/stock-results.ts';
import { measured } from '../model/value.ts';
import { type ShortStretch, shortStretches } from './short-areas.ts';
import { extremeStock } from './stock-extremes.ts';
import type { StockScene } from './stock-scene.ts';

/** Smallest area short of stock that is listed (mm²), unless it is short by this many standard uncertainties. */
const LEAST_AREA = 0.5;
const CLEAR = 3;

/** Returns the connected areas with less stock than wanted, the one most short of it first. */
export function shortAreas(scene: StockScene): ShortArea[] {
  return shortStretches(scene.fine, scene.wanted)
    .map((stretch) => areaRecord(scene, stretch))
    .filter((area): area is ShortArea => area !== null)
    .sort((a, b) => b.depth - a.depth || b.areaMm2 - a.areaMm2);
}

/** Record of a stretch; null where it is too small and too shallow to tell from noise. */
function areaRecord(scene: StockScene, stretch: ShortStretch): ShortArea | null {
  const { cells, zones, fine } = scene;
  const chosen = new Set<number>();
  for (const m of stretch.cells) chosen.add(cells.ofMapCell[m]);
  // Each zone wants its own: the area is placed where most is missing.
  let [deepest, depth] = [null as ReturnType<typeof extremeStock>, Number.NEGATIVE_INFINITY];
  for (let z = 0; z < zones.zones.length; z++) {
    const least = extremeStock(
      cells,
      scene.noise,
      [...chosen].filter((k) => cells.zone[k] === z),
      -1,
    );
    if (!least || zones.zones[z].least - least.value <= depth) continue;
    [deepest, depth] = [least, zones.zones[z].least - least.value];
  }
  if (!deepest) return null;
  const { cell, value, raw, bias } = deepest;
  const u = scene.uOf(cell);
  if (stretch.area < LEAST_AREA && !(u !== null && depth >= CLEAR * u)) return null;
  const minus = stretch.cells.find((m) => cells.ofMapCell[m] === cell && Number.isFinite(fine.minus[m]));
  const band = minus === undefined ? 0 : fine.minus[minus];
  return {
    kind: value >= 0 ? 'thin' : value + band >= 0 ? 'within-band' : 'lack',
    place: scene.placeOf(cell),
    areaMm2: stretch.area,
    least: measured(value, u, 'mm', 'STOCK-LEAST', { evidence: { raw, bias } }),
    depth: Math.max(0, depth),
    fromHeight: stretch.fromHeight,
    toHeight: stretch.toHeight,
    zone: zones.zones[cells.zone[cell]].name,
  };
}
