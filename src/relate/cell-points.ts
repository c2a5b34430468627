import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';
import { cellOf, type SurfaceCells } from './surface-cells.ts';

/**
 * Returns the middles of the cells in the blade frame, row-major x0, y0, z0, x1, … (mm).
 * @param normals filled with the outward unit normals there, laid out alike; absent: not wanted
 */
export function cellPoints(surface: NominalSurface, cells: SurfaceCells, normals?: Float64Array): Float64Array {
  const columns = cells.columnBorders.length - 1;
  const points = new Float64Array(cells.area.length * 3);
  const place = new Float64Array(PLACE_SIZE);
  for (let r = 0; r < cells.heights.length; r++) {
    for (let c = 0; c < columns; c++) {
      evaluateSurface(surface, (cells.columnBorders[c] + cells.columnBorders[c + 1]) / 2, cells.heights[r], place);
      const at = (r * columns + c) * 3;
      points.set(place.subarray(0, 3), at);
      if (normals) placeNormal(surface, place, normals, at);
    }
  }
  return points;
}

/** Returns the cell value at (u, height), NaN where the cell is not measured. */
export function cellValueAt(cells: SurfaceCells, values: Float64Array, u: number, height: number): number {
  const columns = cells.columnBorders.length - 1;
  const row = cellOf(cells.rowBorders, height);
  const column = cellOf(cells.columnBorders, u);
  return row < 0 || column < 0 ? NaN : values[row * columns + column];
}
