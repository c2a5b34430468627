/** Square cells over planar points, for finding near neighbours. */
export interface NeighbourGrid {
  points: Float64Array;
  minX: number;
  minY: number;
  cell: number;
  columns: number;
  rows: number;
  /** First entry of each cell in `items`, and one more. */
  start: Uint32Array;
  items: Uint32Array;
}

/** Returns a grid with about two points a cell along a curve of the given length scale. */
export function neighbourGrid(points: Float64Array): NeighbourGrid {
  const count = points.length >> 1;
  let minX = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    minX = Math.min(minX, points[2 * i]);
    maxX = Math.max(maxX, points[2 * i]);
    minY = Math.min(minY, points[2 * i + 1]);
    maxY = Math.max(maxY, points[2 * i + 1]);
  }
  const around = 2 * (maxX - minX + (maxY - minY)) || 1;
  const cell = (2 * around) / Math.max(1, count);
  const columns = Math.min(4096, Math.floor((maxX - minX) / cell) + 1);
  const rows = Math.min(4096, Math.floor((maxY - minY) / cell) + 1);
  const size = Math.max((maxX - minX) / columns, (maxY - minY) / rows, cell) * (1 + 1e-12);
  const start = new Uint32Array(columns * rows + 1);
  const cellOf = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    const c = Math.min(columns - 1, Math.floor((points[2 * i] - minX) / size));
    const r = Math.min(rows - 1, Math.floor((points[2 * i + 1] - minY) / size));
    cellOf[i] = r * columns + c;
    start[cellOf[i] + 1]++;
  }
  for (let c = 0; c < columns * rows; c++) start[c + 1] += start[c];
  const items = new Uint32Array(count);
  const fill = start.slice();
  for (let i = 0; i < count; i++) items[fill[cellOf[i]]++] = i;
  return { points, minX, minY, cell: size, columns, rows, start, items };
}

/**
 * Returns the indices of the nearest points to point `i`, itself left out, nearest first, at most `most`.
 * @param accept tells whether a candidate counts
 */
export function nearestPoints(
  grid: NeighbourGrid,
  i: number,
  most: number,
  accept: (j: number) => boolean = () => true,
): number[] {
  const { points, minX, minY, cell, columns, rows, start, items } = grid;
  const x = points[2 * i];
  const y = points[2 * i + 1];
  const column = Math.min(columns - 1, Math.floor((x - minX) / cell));
  const row = Math.min(rows - 1, Math.floor((y - minY) / cell));
  const found: number[] = [];
  const squares: number[] = [];
  const visit = (c: number, r: number) => {
    if (c < 0 || r < 0 || c >= columns || r >= rows) return;
    const at = r * columns + c;
    for (let k = start[at]; k < start[at + 1]; k++) {
      const j = items[k];
      if (j === i || !accept(j)) continue;
      const square = (points[2 * j] - x) ** 2 + (points[2 * j + 1] - y) ** 2;
      let place = found.length;
      while (place > 0 && squares[place - 1] > square) place--;
      if (place >= most) continue;
      found.splice(place, 0, j);
      squares.splice(place, 0, square);
      if (found.length > most) {
        found.pop();
        squares.pop();
      }
    }
  };
  const reach = Math.max(columns, rows);
  for (let ring = 0; ring <= reach; ring++) {
    if (found.length >= most && squares[most - 1] <= ((ring - 1) * cell) ** 2) break;
    for (let c = column - ring; c <= column + ring; c++) {
      visit(c, row - ring);
      if (ring > 0) visit(c, row + ring);
    }
    for (let r = row - ring + 1; r < row + ring; r++) {
      visit(column - ring, r);
      visit(column + ring, r);
    }
  }
  return found;
}
