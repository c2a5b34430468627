/** Index of the cell nearest to a place of the surface; −1 where there are no cells. */
export type NearestCell = (height: number, along: number) => number;

/**
 * Finds cells by place: they are sorted into square buckets of about one cell each, and a place is looked up in ever
 * wider rings of buckets. Places far outside are drawn in to the border.
 */
export function nearestCell(cells: {
  count: number;
  height: ArrayLike<number>;
  along: ArrayLike<number>;
}): NearestCell {
  const { count, height, along } = cells;
  if (count === 0) return () => -1;
  let [low, high, left, right] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    low = Math.min(low, height[i]);
    high = Math.max(high, height[i]);
    left = Math.min(left, along[i]);
    right = Math.max(right, along[i]);
  }
  const side = Math.sqrt(((high - low || 1) * (right - left || 1)) / count);
  const rows = Math.floor((high - low) / side) + 1;
  const columns = Math.floor((right - left) / side) + 1;
  const buckets: number[][] = Array.from({ length: rows * columns }, () => []);
  const within = (at: number, most: number): number => Math.max(0, Math.min(most - 1, Math.floor(at)));
  const bucketOf = (h: number, a: number): [number, number] => [
    within((h - low) / side, rows),
    within((a - left) / side, columns),
  ];
  for (let i = 0; i < count; i++) {
    const [row, column] = bucketOf(height[i], along[i]);
    buckets[row * columns + column].push(i);
  }
  return (h, a) => {
    const [row, column] = bucketOf(h, a);
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    const look = (r: number, c: number): void => {
      if (r < 0 || r >= rows || c < 0 || c >= columns) return;
      for (const i of buckets[r * columns + c]) {
        const d = (height[i] - h) ** 2 + (along[i] - a) ** 2;
        if (d < least) [best, least] = [i, d];
      }
    };
    for (let ring = 0; ring < Math.max(rows, columns); ring++) {
      // What lies beyond the rings looked at is farther than this; nearer is not possible any more.
      if (best >= 0 && least <= ((ring - 1) * side) ** 2 && ring > 0) break;
      for (let c = column - ring; c <= column + ring; c++) {
        look(row - ring, c);
        if (ring > 0) look(row + ring, c);
      }
      for (let r = row - ring + 1; r < row + ring; r++) {
        look(r, column - ring);
        look(r, column + ring);
      }
    }
    return best;
  };
}
