import type { EdgeReach } from './judge/map-places.ts';
import type { NominalSurface } from './model/surface.ts';
import type { DatumSurface } from './place/datum-spread.ts';
import { surfaceCells } from './relate/surface-cells.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from './spatial/surface-evaluate.ts';
import { placeRecord } from './stock/place-record.ts';

/** Side of the cells in whose middles an uncertainty of the placement is judged (mm). */
const CELL = 3;

/** Returns places spread over a surface with their normals. @param reach of the edge zones (mm) */
export function surfacePlaces(surface: NominalSurface, reach: EdgeReach): DatumSurface {
  const cells = surfaceCells(surface, CELL, CELL);
  const columns = cells.columnBorders.length - 1;
  const count = cells.area.length;
  const point = new Float64Array(3 * count);
  const normal = new Float64Array(3 * count);
  const place = new Float64Array(PLACE_SIZE);
  for (let i = 0; i < count; i++) {
    const c = i % columns;
    const u = (cells.columnBorders[c] + cells.columnBorders[c + 1]) / 2;
    evaluateSurface(surface, u, cells.heights[(i - c) / columns], place);
    point.set(place.subarray(0, 3), 3 * i);
    placeNormal(surface, place, normal, 3 * i);
  }
  return {
    point,
    normal,
    placeOf: (i) => placeRecord(surface, reach, cells.heights[Math.floor(i / columns)], cells.along[i], point, 3 * i),
  };
}
