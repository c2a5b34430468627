import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import { cellOf, type SurfaceCells } from './surface-cells.ts';

/** Returns the middles of the cells in the blade frame, row-major x0, y0, z0, x1, … (mm). */
export function cellPoints(surface: NominalSurface, cells: SurfaceCells): Float64Array {
  const columns = cells.columnBorders.length - 1;
  const points = new Float64Array(cells.area.length * 3);
  const place = new Float64Array(PLACE_SIZE);
  for (let r = 0; r < cells.heights.length; r++) {
    for (let c = 0; c < columns; c++) {
      evaluateSurface(surface, (cells.columnBorders[c] + cells.columnBorders[c + 1]) / 2, cells.heights[r], place);
      points.set(place.subarray(0, 3), (r * columns + c) * 3);
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
