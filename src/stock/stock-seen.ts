import { largestGap, type MapGap } from '../judge/largest-gap.ts';
import type { StockScene } from './stock-scene.ts';

/** How much of some cells of the map is measured. */
export interface StockSeen {
  /** mm² */
  area: number;
  /** 0 … 1 */
  coverage: number;
  gap: MapGap | null;
}

/** Returns area, measured share and largest missing stretch of cells of the map. */
export function stockSeen(scene: StockScene, ofMap: readonly number[]): StockSeen {
  const { fine, map } = scene;
  let [area, seen] = [0, 0];
  for (const m of ofMap) {
    area += fine.area[m];
    if (Number.isFinite(fine.raw[m])) seen += fine.area[m];
  }
  const places = ofMap.map((m): [number, number] => [Math.floor(m / fine.columns), m % fine.columns]);
  return { area, coverage: area > 0 ? seen / area : 0, gap: largestGap(map.map, fine.area, places) };
}

/** As `stockSeen`, of a zone's flanks. */
export function flankSeen(scene: StockScene, zone: number): StockSeen {
  const { fine } = scene;
  const ofMap: number[] = [];
  for (let m = 0; m < fine.zone.length; m++) if (fine.zone[m] === zone && fine.flank[m] !== 0) ofMap.push(m);
  return stockSeen(scene, ofMap);
}
