import { type CalmTrust, calmField } from '../judge/calm-field.ts';
import { limitsOfMap, sidesOfRow, type ZoneReach } from '../judge/map-places.ts';
import type { Plan } from '../model/plan.ts';
import type { SurfaceMap } from '../relate/surface-map.ts';
import { profileLimits, zoneOfSide } from './stock-zones.ts';

/** The cells of the surface map as a blank is judged on them: stock without its noise, zone, limits. Row-major. */
export interface StockMap {
  rows: number;
  columns: number;
  heights: Float64Array;
  /** Length from the leading edge (mm). */
  along: Float64Array;
  /** mm² */
  area: Float64Array;
  /** Stock as averaged, and calmed as far as noise explains its roughness (mm); NaN = not measured. */
  raw: Float64Array;
  calm: Float64Array;
  /** Noise of a cell as found over the stated one, 0 … 1. */
  noiseShare: Float64Array;
  /** Index of the zone, −1 for none. */
  zone: Int16Array;
  /** −1 on the suction flank, +1 on the pressure flank, 0 in the edge zones. */
  flank: Int8Array;
  /** Missing and outside material the profile allows (mm, positive); NaN where it gives no limits. */
  minus: Float64Array;
  plus: Float64Array;
}

/**
 * Standard deviations by which the stock may leave its calm surface: what noise reaches somewhere among ten
 * thousands of cells, so that the extremes of noise alone are not taken for stock.
 */
const TRUST: CalmTrust = { misfit: 4.5, centre: 4.5 };

/** Returns the cells of a surface map with what judging a blank asks of them. */
export function stockMap(map: SurfaceMap, reaches: readonly ZoneReach[], plan: Plan | null): StockMap {
  const { heights, along, area } = map.cells;
  const rows = heights.length;
  const columns = map.cells.columnBorders.length - 1;
  const field = calmField(map.map, TRUST);
  const zone = new Int16Array(area.length).fill(-1);
  const flank = new Int8Array(area.length);
  const calm = new Float64Array(area.length);
  const noiseShare = new Float64Array(area.length);
  const minus = new Float64Array(area.length).fill(Number.NaN);
  const plus = minus.slice();
  const limits = limitsOfMap(map.map, profileLimits(plan, reaches));
  for (let r = 0; r < rows; r++) {
    const sides = reaches.length > 0 ? sidesOfRow(map.map.along[r], reaches[0]) : [];
    for (let c = 0; c < columns; c++) {
      const m = r * columns + c;
      calm[m] = field.value[r][c];
      noiseShare[m] = map.u[m] > 0 ? field.noise[r][c] / map.u[m] : 1;
      if (sides.length > 0) {
        zone[m] = zoneOfSide(reaches, sides[c], heights[r]);
        flank[m] = sides[c] === 'suction' ? -1 : sides[c] === 'pressure' ? 1 : 0;
      }
      const { lower, upper } = limits[r][c];
      if (lower !== null) minus[m] = -lower;
      if (upper !== null) plus[m] = upper;
    }
  }
  return { rows, columns, heights, along, area, raw: map.deviation, calm, noiseShare, zone, flank, minus, plus };
}
