import { median } from '../math/median.ts';
import { nearestPoints, neighbourGrid } from './neighbour-grid.ts';

/** The neighbour whose distance counts, and how many times the usual distance makes a point a lone one. */
const NEIGHBOUR = 4;
const LONE = 3;

/**
 * Returns section points without lone ones, which lie off every other: those whose fourth neighbour is more than three
 * times as far as usual. They would break the order round the outline.
 * @param points x0, y0, x1, … (mm)
 */
export function dropLonePoints(points: Float64Array): Float64Array {
  const count = points.length >> 1;
  if (count <= NEIGHBOUR) return points;
  const grid = neighbourGrid(points);
  const distance = Float64Array.from({ length: count }, (_, i) => {
    const far = nearestPoints(grid, i, NEIGHBOUR)[NEIGHBOUR - 1];
    return Math.hypot(points[2 * far] - points[2 * i], points[2 * far + 1] - points[2 * i + 1]);
  });
  const limit = LONE * median(distance);
  return points.filter((_, k) => distance[k >> 1] <= limit);
}
