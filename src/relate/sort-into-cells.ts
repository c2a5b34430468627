import { POINT_USED, type Relation } from '../model/relation.ts';
import { cellOf, type SurfaceCells } from './surface-cells.ts';

/** Points by cell: those of cell `k` are `points[start[k] … start[k + 1])`, in input order. */
export interface CellPoints {
  start: Uint32Array;
  points: Uint32Array;
}

/** Returns the used points of a relation sorted into the cells (counting sort). */
export function sortIntoCells(relation: Relation, cells: SurfaceCells): CellPoints {
  const columns = cells.columnBorders.length - 1;
  const count = cells.area.length;
  const start = new Uint32Array(count + 1);
  const cell = new Int32Array(relation.count);
  for (let i = 0; i < relation.count; i++) {
    cell[i] = -1;
    if (relation.flag[i] !== POINT_USED) continue;
    const row = cellOf(cells.rowBorders, relation.height[i]);
    const column = cellOf(cells.columnBorders, relation.u[i]);
    if (row < 0 || column < 0) continue;
    cell[i] = row * columns + column;
    start[cell[i] + 1]++;
  }
  for (let k = 0; k < count; k++) start[k + 1] += start[k];
  const points = new Uint32Array(start[count]);
  const next = start.slice(0, count);
  for (let i = 0; i < relation.count; i++) if (cell[i] >= 0) points[next[cell[i]]++] = i;
  return { start, points };
}
