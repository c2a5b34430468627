import { type NeighbourGrid, nearestPoints } from './neighbour-grid.ts';

/** Direction of the outline at each point, up to sign, and how far its neighbours scatter across it. */
export interface PointTangents {
  /** Unit vectors x0, y0, x1, … */
  tangents: Float64Array;
  /** Root mean square scatter across the direction (mm). */
  scatter: Float64Array;
}

/** Numbers of neighbours tried, smallest first. */
const SIZES = [6, 12, 24, 48, 96];
/** Ratio of the scatters across and along, squared, that makes a direction clear. */
const CLEAR = 0.02;

/** Returns local directions by principal axes of the nearest points; more neighbours where noise hides the direction. */
export function pointTangents(grid: NeighbourGrid): PointTangents {
  const { points } = grid;
  const count = points.length >> 1;
  const tangents = new Float64Array(2 * count);
  const scatter = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let best = Number.POSITIVE_INFINITY;
    for (const size of SIZES) {
      if (size >= count) break;
      const near = nearestPoints(grid, i, size);
      let sx = 0;
      let sy = 0;
      let xx = 0;
      let xy = 0;
      let yy = 0;
      for (const j of near) {
        const dx = points[2 * j] - points[2 * i];
        const dy = points[2 * j + 1] - points[2 * i + 1];
        sx += dx;
        sy += dy;
        xx += dx * dx;
        xy += dx * dy;
        yy += dy * dy;
      }
      const n = near.length + 1;
      const a = xx / n - (sx / n) ** 2;
      const b = xy / n - (sx * sy) / (n * n);
      const c = yy / n - (sy / n) ** 2;
      const root = Math.hypot(a - c, 2 * b);
      const large = 0.5 * (a + c + root);
      const small = Math.max(0, 0.5 * (a + c - root));
      if (small / large < best) {
        best = small / large;
        const angle = 0.5 * Math.atan2(2 * b, a - c);
        tangents[2 * i] = Math.cos(angle);
        tangents[2 * i + 1] = Math.sin(angle);
        scatter[i] = Math.sqrt(small);
      }
      if (best < CLEAR) break;
    }
  }
  return { tangents, scatter };
}
