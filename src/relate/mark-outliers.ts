import { MAD_TO_SIGMA, medianInPlace } from '../math/median.ts';
import { POINT_OUTLIER, type Relation } from '../model/relation.ts';
import type { CellPoints } from './sort-into-cells.ts';
import type { SurfaceCells } from './surface-cells.ts';

/** A point is a stray beyond this many standard deviations from its neighbours' median … */
const STRAY_SIGMAS = 6;
/** … unless more than this many points there, itself counted, go the same way (a dent or burr, kept). */
const AGREEING_POINTS = 3;

/**
 * Marks lone strays as outliers in `relation.flag` and returns their indices, rising. A point strays when it lies
 * beyond six standard deviations of noise from the median of its cell and its eight neighbours, more than their own spread explains,
 * and at most two other points there stray alike to the same side within half their distance: what several points agree
 * on may be a defect of the part and stays in.
 */
export function markOutliers(relation: Relation, cells: SurfaceCells, sorted: CellPoints, noise: number): number[] {
  const columns = cells.columnBorders.length - 1;
  const rows = cells.rowBorders.length - 1;
  const { deviation, flag } = relation;
  const values: number[] = [];
  const outliers: number[] = [];
  const limit = Math.max(STRAY_SIGMAS * noise, 1e-6);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const cell = row * columns + column;
      const from = sorted.start[cell];
      const to = sorted.start[cell + 1];
      if (from === to) continue;
      const centre = cellMedian(deviation, sorted, cell);
      let suspect = false;
      for (let j = from; j < to; j++) if (Math.abs(deviation[sorted.points[j]] - centre) > limit) suspect = true;
      if (!suspect && to - from >= 3) continue;
      values.length = 0;
      for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
        for (let dc = -1; dc <= 1; dc++) {
          const c = (column + dc + columns) % columns;
          const k = r * columns + c;
          for (let j = sorted.start[k]; j < sorted.start[k + 1]; j++) values.push(deviation[sorted.points[j]]);
        }
      }
      if (values.length < 6) continue;
      const scratch = Float64Array.from(values);
      const middle = medianInPlace(scratch);
      for (let i = 0; i < scratch.length; i++) scratch[i] = Math.abs(scratch[i] - middle);
      const spread = Math.max(limit, STRAY_SIGMAS * MAD_TO_SIGMA * medianInPlace(scratch));
      for (let j = from; j < to; j++) {
        const i = sorted.points[j];
        const away = deviation[i] - middle;
        if (Math.abs(away) <= spread) continue;
        let alike = 0;
        for (const value of values) if ((value - middle) / away > 0.5) alike++;
        if (alike <= AGREEING_POINTS) outliers.push(i);
      }
    }
  }
  for (const i of outliers) flag[i] = POINT_OUTLIER;
  return outliers.sort((a, b) => a - b);
}

function cellMedian(deviation: Float64Array, sorted: CellPoints, cell: number): number {
  const from = sorted.start[cell];
  const count = sorted.start[cell + 1] - from;
  const values = new Float64Array(count);
  for (let j = 0; j < count; j++) values[j] = deviation[sorted.points[from + j]];
  return medianInPlace(values);
}
