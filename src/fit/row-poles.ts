import type { NominalSurface } from '../model/surface.ts';
import { evaluateCell, PLACE_SIZE } from '../spatial/surface-evaluate.ts';

/** Knots along the outline that all rows of a nominal surface share, and where each pole comes from. */
export interface RowKnots {
  /** Clamped at the trailing edge, three times at corners, once at other columns (mm). */
  knots: Float64Array;
  /** Column at which the cell begins that gives a pole. */
  cell: Int32Array;
}

/** Returns the knots of cubic rows over the columns of a nominal surface. */
export function rowKnots(columns: Float64Array): RowKnots {
  const knots: number[] = [];
  const starts: number[] = [];
  const last = columns.length - 1;
  for (let c = 0; c <= last; c++) {
    const end = c === 0 || c === last;
    const corner = c < last && columns[c + 1] <= columns[c];
    const copies = end ? 4 : corner ? 3 : 1;
    const start = c === last ? last - 1 : corner ? c + 1 : c;
    for (let k = 0; k < copies; k++) {
      knots.push(columns[c]);
      starts.push(start);
    }
    if (corner) c++;
  }
  const cell = Int32Array.from({ length: knots.length - 4 }, (_, i) =>
    knots[i + 2] > knots[i + 1] ? starts[i + 1] : starts[i + 2],
  );
  return { knots: Float64Array.from(knots), cell };
}

/**
 * Returns the poles x0, y0, x1, … of the row at a height (mm), or of its change with height. At any height the outline
 * is a C² cubic spline over the columns, so that the poles are the blossoms of its pieces at three neighbouring knots
 * (Ramshaw, CAGD 6, 1989). First and last pole are the same.
 * @param row cell row of the surface that holds the height
 * @param of 0: the outline; 1: its derivative by height
 */
export function rowPoles(
  surface: NominalSurface,
  { knots, cell }: RowKnots,
  row: number,
  height: number,
  of: 0 | 1,
): Float64Array {
  const { columns } = surface;
  const count = cell.length;
  const poles = new Float64Array(2 * count);
  const begin = new Float64Array(PLACE_SIZE);
  const end = new Float64Array(PLACE_SIZE);
  const value = of === 0 ? 0 : 6;
  const slope = of === 0 ? 3 : 12;
  let evaluated = -1;
  for (let i = 0; i < count; i++) {
    const c = cell[i];
    if (c !== evaluated) {
      evaluateCell(surface, c, row, columns[c], height, begin);
      evaluateCell(surface, c, row, columns[c + 1], height, end);
      evaluated = c;
    }
    const h = columns[c + 1] - columns[c];
    const u = knots[i + 1] - columns[c];
    const v = knots[i + 2] - columns[c];
    const w = knots[i + 3] - columns[c];
    for (let axis = 0; axis < 2; axis++) {
      const rise = (end[value + axis] - begin[value + axis]) / h;
      const first = begin[slope + axis];
      const square = (3 * rise - 2 * first - end[slope + axis]) / h;
      const cube = (first + end[slope + axis] - 2 * rise) / (h * h);
      poles[2 * i + axis] =
        begin[value + axis] + (first * (u + v + w)) / 3 + (square * (u * v + u * w + v * w)) / 3 + cube * u * v * w;
    }
  }
  poles[2 * count - 2] = poles[0];
  poles[2 * count - 1] = poles[1];
  return poles;
}
