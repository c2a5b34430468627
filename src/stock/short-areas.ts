import type { StockMap } from './stock-map.ts';

/** A connected stretch of the map with less stock than wanted. */
export interface ShortStretch {
  /** Cells of the map. */
  cells: number[];
  /** Area short of stock, cells on its border counted in part (mm²). */
  area: number;
  /** Heights between which it lies (mm). */
  fromHeight: number;
  toHeight: number;
}

/**
 * Returns the connected stretches of calm stock below what is wanted. Neighbours share a side or a corner; the trailing
 * edge joins the last column to the first. A cell on the border counts by the part of it that is short, the field taken
 * as a plane across the cell, so that the area does not hang on the grid.
 * @param wanted least stock of each cell (mm); NaN where none is wanted
 */
export function shortStretches(map: StockMap, wanted: Float64Array): ShortStretch[] {
  const { calm, rows, columns } = map;
  const spare = calm.map((a, m) => a - wanted[m]);
  const label = new Int32Array(calm.length).fill(-1);
  const stretches: ShortStretch[] = [];
  const half = rows > 1 ? (map.heights[1] - map.heights[0]) / 2 : 0;
  for (let first = 0; first < calm.length; first++) {
    if (!(spare[first] < 0) || label[first] >= 0) continue;
    const id = stretches.length;
    const cells = [first];
    label[first] = id;
    for (let i = 0; i < cells.length; i++)
      for (const next of neighbours(cells[i], rows, columns)) {
        if (label[next] >= 0 || !(spare[next] < 0)) continue;
        label[next] = id;
        cells.push(next);
      }
    const height = (m: number): number => map.heights[Math.floor(m / columns)];
    stretches.push({
      cells,
      area: shortArea(map, spare, cells),
      fromHeight: cells.reduce((low, m) => Math.min(low, height(m) - half), Number.POSITIVE_INFINITY),
      toHeight: cells.reduce((high, m) => Math.max(high, height(m) + half), Number.NEGATIVE_INFINITY),
    });
  }
  return stretches;
}

/** Cells that share a side or corner with a cell, the columns joined to a ring. */
function neighbours(m: number, rows: number, columns: number): number[] {
  const column = m % columns;
  const row = (m - column) / columns;
  const found: number[] = [];
  for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++)
    for (let step = -1; step <= 1; step++) {
      const next = r * columns + ((column + step + columns) % columns);
      if (next !== m) found.push(next);
    }
  return found;
}

/** Area below zero of a stretch's cells and of those about it. */
function shortArea(map: StockMap, spare: Float64Array, cells: readonly number[]): number {
  const counted = new Set<number>(cells);
  for (const m of cells) for (const next of neighbours(m, map.rows, map.columns)) counted.add(next);
  let area = 0;
  for (const m of counted) if (Number.isFinite(spare[m])) area += map.area[m] * shortPart(spare, m, map.columns);
  return area;
}

/** Part of a cell that lies below zero, its field a plane through its neighbours. */
function shortPart(spare: Float64Array, m: number, columns: number): number {
  const beside = m - (m % columns);
  const across = changeOver(
    spare[beside + ((m + columns - 1) % columns)],
    spare[m],
    spare[beside + ((m + 1) % columns)],
  );
  const up = changeOver(spare[m - columns] ?? Number.NaN, spare[m], spare[m + columns] ?? Number.NaN);
  return partBelow(spare[m], Math.abs(across), Math.abs(up));
}

/** Change of a field across a cell, from those of its neighbours that are measured. */
function changeOver(before: number, here: number, after: number): number {
  if (Number.isFinite(before) && Number.isFinite(after)) return (after - before) / 2;
  if (Number.isFinite(before)) return here - before;
  return Number.isFinite(after) ? after - here : 0;
}

/** Part of the unit square where middle + a (x − ½) + b (y − ½) is below 0, a and b not negative. */
export function partBelow(middle: number, a: number, b: number): number {
  const level = (a + b) / 2 - middle;
  if (level <= 0) return 0;
  if (level >= a + b) return 1;
  const [small, large] = a < b ? [a, b] : [b, a];
  if (small < 1e-9 * large) return Math.min(level / large, 1);
  const ramp = (t: number): number => Math.max(0, t) ** 2;
  return (ramp(level) - ramp(level - a) - ramp(level - b)) / (2 * a * b);
}
