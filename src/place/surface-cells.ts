import type { NominalSurface } from '../model/surface.ts';

/** Equal cells over the nominal's two coordinates: `around` in position along the outline, `up` in height. */
export interface SurfaceCells {
  around: number;
  up: number;
  uLow: number;
  uHigh: number;
  heightLow: number;
  heightHigh: number;
}

/** Returns cells that cover a surface. */
export function surfaceCells(surface: NominalSurface, around: number, up: number): SurfaceCells {
  const { columns, heights } = surface;
  return {
    around,
    up,
    uLow: columns[0],
    uHigh: columns[columns.length - 1],
    heightLow: heights[0],
    heightHigh: heights[heights.length - 1],
  };
}

/** Number of the cell of a place, column by column; places beyond the surface belong to its nearest cell. */
export function cellOf(cells: SurfaceCells, u: number, height: number): number {
  const a = Math.floor(((u - cells.uLow) / (cells.uHigh - cells.uLow)) * cells.around);
  const b = Math.floor(((height - cells.heightLow) / (cells.heightHigh - cells.heightLow)) * cells.up);
  const column = a < 0 ? 0 : a >= cells.around ? cells.around - 1 : a;
  const row = b < 0 ? 0 : b >= cells.up ? cells.up - 1 : b;
  return column * cells.up + row;
}
