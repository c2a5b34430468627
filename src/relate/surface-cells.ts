import type { NominalSurface } from '../model/surface.ts';
import { alongAt, evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';

/** A grid over the nominal surface: rows of equal height, columns of `u`, finer where the outline turns. */
export interface SurfaceCells {
  /** Row borders (mm), rows + 1. */
  rowBorders: Float64Array;
  /** Column borders in `u` (mm), columns + 1; the ends are the trailing edge. */
  columnBorders: Float64Array;
  /** Area of each cell, row-major (mm²). */
  area: Float64Array;
  /** Length from the leading edge at the cell centres, row-major (mm, suction side negative). */
  along: Float64Array;
  /** Heights of the row centres (mm). */
  heights: Float64Array;
}

/** Largest turn of the outline across a cell (rad), so that the nose of an edge is not averaged flat. */
const MAX_TURN = (20 * Math.PI) / 180;
const FINE_STEPS = 4000;

/**
 * Returns the cells of the surface map.
 * @param size cell side on the flanks (mm)
 * @param leastWidth least cell width at the edges (mm), so that a cell still holds several points
 */
export function surfaceCells(surface: NominalSurface, size: number, leastWidth: number): SurfaceCells {
  const { heights } = surface;
  const low = heights[0];
  const span = heights[heights.length - 1] - low;
  const rows = Math.max(1, Math.round(span / size));
  const rowBorders = Float64Array.from({ length: rows + 1 }, (_, i) => low + (span * i) / rows);
  const columnBorders = bordersAlong(surface, size, Math.min(leastWidth, size));
  const columns = columnBorders.length - 1;
  const area = new Float64Array(rows * columns);
  const along = new Float64Array(rows * columns);
  const centres = Float64Array.from({ length: rows }, (_, r) => (rowBorders[r] + rowBorders[r + 1]) / 2);
  const place = new Float64Array(PLACE_SIZE);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const u = (columnBorders[c] + columnBorders[c + 1]) / 2;
      evaluateSurface(surface, u, centres[r], place);
      const nx = place[4];
      const ny = -place[3];
      const nz = place[3] * place[7] - place[4] * place[6];
      const density = Math.sqrt(nx * nx + ny * ny + nz * nz);
      area[r * columns + c] = density * (columnBorders[c + 1] - columnBorders[c]) * (rowBorders[r + 1] - rowBorders[r]);
      along[r * columns + c] = alongAt(surface, u, centres[r]);
    }
  }
  return { rowBorders, columnBorders, area, along, heights: centres };
}

/** Column borders: equal parts of a density of one a `size`, more where the middle section turns; the nose is a centre. */
function bordersAlong(surface: NominalSurface, size: number, leastWidth: number): Float64Array {
  const { columns, heights } = surface;
  const uMin = columns[0];
  const uMax = columns[columns.length - 1];
  const middle = (heights[0] + heights[heights.length - 1]) / 2;
  const place = new Float64Array(PLACE_SIZE);
  const cumulative = new Float64Array(FINE_STEPS + 1);
  const step = (uMax - uMin) / FINE_STEPS;
  for (let i = 0; i < FINE_STEPS; i++) {
    evaluateSurface(surface, uMin + (i + 0.5) * step, middle, place);
    const speed = Math.hypot(place[3], place[4]);
    const bend = Math.abs(place[3] * place[10] - place[4] * place[9]) / speed ** 3;
    const width = Math.max(Math.min(size, MAX_TURN / Math.max(bend, 1e-9)), leastWidth);
    cumulative[i + 1] = cumulative[i] + (step * speed) / width;
  }
  const count = Math.max(8, Math.round(cumulative[FINE_STEPS]));
  const borders = new Float64Array(count + 1);
  let i = 0;
  for (let k = 0; k <= count; k++) {
    const level = (cumulative[FINE_STEPS] * k) / count;
    while (i < FINE_STEPS - 1 && cumulative[i + 1] < level) i++;
    const share = (level - cumulative[i]) / (cumulative[i + 1] - cumulative[i]);
    borders[k] = uMin + (i + Math.min(Math.max(share, 0), 1)) * step;
  }
  borders[count] = uMax;
  return borders;
}

/** Index of the interval of rising borders that holds `value`; −1 outside. */
export function cellOf(borders: Float64Array, value: number): number {
  const last = borders.length - 1;
  if (!(value >= borders[0]) || value > borders[last]) return -1;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (borders[middle] <= value) low = middle;
    else high = middle;
  }
  return low;
}
