import type { EdgeReach } from './judge/map-places.ts';
import type { NominalSurface } from './model/surface.ts';
import type { DatumSurface } from './place/datum-spread.ts';
import { cellPoints } from './relate/cell-points.ts';
import { surfaceCells } from './relate/surface-cells.ts';
import { placeRecord } from './stock/place-record.ts';

/** Side of the cells in whose middles an uncertainty of the placement is judged (mm). */
const CELL = 3;

/** Returns places spread over a surface with their normals. @param reach of the edge zones (mm) */
export function surfacePlaces(surface: NominalSurface, reach: EdgeReach): DatumSurface {
  const cells = surfaceCells(surface, CELL, CELL);
  const columns = cells.columnBorders.length - 1;
  const normal = new Float64Array(3 * cells.area.length);
  const point = cellPoints(surface, cells, normal);
  return {
    point,
    normal,
    placeOf: (i) => placeRecord(surface, reach, cells.heights[Math.floor(i / columns)], cells.along[i], point, 3 * i),
  };
}
