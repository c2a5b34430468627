import type { Stock } from '../model/stock-results.ts';
import type { StockMap } from './stock-map.ts';

/**
 * Returns the area of each class of stock (mm²): `enough` with the wanted stock and its guard; `thin` with some, but less;
 * `within-band` with none, but inside the lower profile limit; `lack` beyond it. What is not measured is a class of its
 * own. Cells of no zone are left out.
 * @param wanted least stock of each cell, @param guard added to it for uncertainty (mm)
 */
export function stockClasses(map: StockMap, wanted: Float64Array, guard: Float64Array): Stock['classes'] {
  const classes = { enoughMm2: 0, thinMm2: 0, withinBandMm2: 0, lackMm2: 0, notMeasuredMm2: 0 };
  for (let m = 0; m < map.calm.length; m++) {
    if (map.zone[m] < 0) continue;
    const stock = map.calm[m];
    const minus = Number.isFinite(map.minus[m]) ? map.minus[m] : 0;
    if (!Number.isFinite(stock)) classes.notMeasuredMm2 += map.area[m];
    else if (stock >= wanted[m] + guard[m]) classes.enoughMm2 += map.area[m];
    else if (stock >= 0) classes.thinMm2 += map.area[m];
    else if (stock + minus >= 0) classes.withinBandMm2 += map.area[m];
    else classes.lackMm2 += map.area[m];
  }
  return classes;
}
