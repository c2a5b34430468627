import type { Outline } from '../model/outline.ts';
import type { NominalSurface } from '../model/surface.ts';
import { interpolateOutline } from './interpolate-outline.ts';

/** The closed outline through one point a column of a surface. */
export interface ColumnOutline {
  outline: Outline;
  /** x0, y0, x1, … (mm), counter-clockwise from the trailing edge. */
  points: Float64Array;
  /** Columns the points stand at, rising; doubled ones once, the last left out because it is the first again. */
  columns: number[];
}

/**
 * Returns the closed curve through one point a column, counter-clockwise, corners where the surface has them.
 * @param pointAt writes x, y (mm) of the point at a column's index
 */
export function outlineThroughColumns(
  surface: NominalSurface,
  pointAt: (column: number, out: Float64Array) => void,
): ColumnOutline {
  const { columns, orientation } = surface;
  const kept: number[] = [];
  const corners: number[] = [];
  for (let c = 0; c < columns.length; c++) {
    if (c > 0 && columns[c] <= columns[c - 1]) corners.push(kept.length - 1);
    else kept.push(c);
  }
  kept.pop();
  if (surface.cornerAtTrailing) corners.push(0);
  const count = kept.length;
  const place = (k: number): number => (orientation > 0 ? k : (count - k) % count);
  const points = new Float64Array(2 * count);
  const out = new Float64Array(2);
  kept.forEach((c, k) => {
    pointAt(c, out);
    points.set(out, 2 * place(k));
  });
  const outline = interpolateOutline(points, { corners: corners.map(place).sort((a, b) => a - b) });
  return { outline, points, columns: kept };
}
