import type { Stock, StockZoneResult } from '../model/stock-results.ts';
import { asForged } from './as-forged.ts';
import { shortAreas } from './short-area-records.ts';
import { stockClasses } from './stock-classes.ts';
import { meanStock, placedExtreme, stockPercentiles, volumeOf } from './stock-numbers.ts';
import { type StockInput, type StockScene, stockScene } from './stock-scene.ts';
import { stockSeen } from './stock-seen.ts';
import { stockVerdict } from './stock-verdict.ts';
import { stockWanted } from './stock-zones.ts';

/** Everything told of a blank's stock but its placement. */
export type StockRecord = Omit<Stock, 'placement' | 'better' | 'datum' | 'offsets'>;

/**
 * Returns what is told of a blank's stock in one placement: least and most on the averaged cells (bias of the extreme
 * corrected), means, classes, areas short of stock, volumes to remove, and per zone the verdict and whether it may stay
 * as forged. Millimetres; positive is material outside the finished surface.
 */
export function stockRecord(input: StockInput): StockRecord {
  const scene = stockScene(input);
  const { cells, zones, fine, plan } = scene;
  const inZones: number[] = [];
  for (let k = 0; k < cells.count; k++) if (cells.zone[k] >= 0) inZones.push(k);
  const ofMap: number[] = [];
  for (let m = 0; m < fine.zone.length; m++) if (fine.zone[m] >= 0) ofMap.push(m);
  return {
    wanted: stockWanted(plan),
    least: placedExtreme(scene, inZones, -1),
    most: placedExtreme(scene, inZones, 1),
    mean: meanStock(scene, inZones),
    coverage: stockSeen(scene, ofMap).coverage,
    classes: stockClasses(fine, scene.wanted, scene.guard),
    areas: shortAreas(scene),
    volumeMm3: volumeOf(scene, ofMap),
    zones: zones.zones.map((_, index) => zoneRecord(scene, index)),
  };
}

function zoneRecord(scene: StockScene, index: number): StockZoneResult {
  const { cells, fine, plan } = scene;
  const zone = scene.zones.zones[index];
  const chosen: number[] = [];
  for (let k = 0; k < cells.count; k++) if (cells.zone[k] === index) chosen.push(k);
  const ofMap: number[] = [];
  for (let m = 0; m < fine.zone.length; m++) if (fine.zone[m] === index) ofMap.push(m);
  const { coverage, area, gap } = stockSeen(scene, ofMap);
  const least = placedExtreme(scene, chosen, -1);
  const most = placedExtreme(scene, chosen, 1);
  let short = 0;
  for (const m of ofMap) if (fine.calm[m] < zone.least) short += fine.area[m];
  return {
    zone: zone.name,
    reach: scene.zones.reaches[index],
    wanted: { least: zone.least, most: zone.most },
    least,
    most,
    mean: meanStock(scene, chosen),
    percentiles: stockPercentiles(scene, chosen),
    shortFraction: coverage > 0 ? short / (coverage * area) : null,
    coverage,
    areaMm2: area,
    volumeMm3: volumeOf(scene, ofMap),
    ...stockVerdict(least, most, zone, { coverage, gap }, plan),
    asForged: asForged(scene, index),
  };
}
