import type { EdgeReach } from '../judge/map-places.ts';
import type { Place } from '../model/results.ts';
import type { StockCells } from '../model/stock-cells.ts';
import type { NominalSurface } from '../model/surface.ts';
import { sideAt } from './stock-zones.ts';

/**
 * Returns a place of the surface as the results tell it.
 * @param reach of the edge zones, which decides the side
 * @param height, along height and length from the leading edge, suction side negative (mm)
 * @param point holds x, y, z from index `at` on (mm)
 */
export function placeRecord(
  surface: NominalSurface,
  reach: EdgeReach,
  height: number,
  along: number,
  point: ArrayLike<number>,
  at = 0,
): Place {
  return {
    height,
    along,
    side: sideAt(surface, reach, along, height),
    point: [point[at], point[at + 1], point[at + 2]],
  };
}

/** Returns the place of stock cell `k`, see {@link placeRecord}. */
export function cellPlace(surface: NominalSurface, reach: EdgeReach, cells: StockCells, k: number): Place {
  return placeRecord(surface, reach, cells.height[k], cells.along[k], cells.point, 3 * k);
}
