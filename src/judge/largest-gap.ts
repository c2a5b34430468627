import type { DeviationMap } from '../model/results.ts';

/** A stretch without measurement. */
export interface MapGap {
  /** mm² */
  area: number;
  /** Height of its middle (mm). */
  height: number;
}

/**
 * Returns the largest connected stretch of unmeasured cells among those given (neighbours share a side; the trailing
 * edge joins the last column to the first); null when all are measured.
 * @param cells [row, column] of the zone
 * @param area cell areas, row-major (mm²)
 */
export function largestGap(
  map: DeviationMap,
  area: Float64Array,
  cells: readonly (readonly [number, number])[],
): MapGap | null {
  const columns = map.along[0]?.length ?? 0;
  const open = new Set<number>();
  for (const [row, column] of cells) if (map.deviation[row][column] === null) open.add(row * columns + column);
  let largest: MapGap | null = null;
  for (const first of open) {
    open.delete(first);
    const stack = [first];
    let total = 0;
    let moment = 0;
    while (stack.length > 0) {
      const cell = stack.pop() as number;
      const row = Math.floor(cell / columns);
      const column = cell - row * columns;
      total += area[cell];
      moment += area[cell] * map.heights[row];
      const beside = row * columns;
      const next = [
        cell - columns,
        cell + columns,
        beside + ((column + 1) % columns),
        beside + ((column + columns - 1) % columns),
      ];
      for (const neighbour of next) if (open.delete(neighbour)) stack.push(neighbour);
    }
    if (largest === null || total > largest.area) largest = { area: total, height: moment / total };
  }
  return largest;
}
