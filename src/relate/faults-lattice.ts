import type { Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import type { Departures } from './faults-background.ts';

/**
 * A lattice over position and height with about one point a pixel, closed round the outline, with running sums over its
 * pixels. Sums have one row and column more than pixels, and repeat the first `WRAP` columns after the last.
 */
export interface FaultLattice {
  columns: number;
  rows: number;
  /** Pixel sides along the outline and the span (mm). */
  width: number;
  height: number;
  uMin: number;
  low: number;
  /** Points of pixel k: points[start[k] … start[k + 1]). */
  start: Uint32Array;
  points: Uint32Array;
  /** Running sums of clipped departures (in noise widths), of points and of the surroundings' share of variance. */
  sum: Float64Array;
  count: Float64Array;
  share: Float64Array;
}

/** Columns repeated beyond the seam. */
const WRAP = 8;
/** A single point counts for at most so many noise widths: how far a stray lies says nothing. */
const CLIP = 6;
const MOST_PIXELS = 8e6;

/** Returns the lattice of all points that have a departure. */
export function faultLattice(
  surface: NominalSurface,
  relation: Relation,
  departures: Departures,
  noise: number,
): FaultLattice {
  const { departure, share } = departures;
  const uMin = surface.columns[0];
  const period = surface.columns[surface.columns.length - 1] - uMin;
  const low = surface.heights[0];
  const span = surface.heights[surface.heights.length - 1] - low;
  const side = Math.max(1 / Math.sqrt(departures.density), Math.sqrt((period * span) / MOST_PIXELS));
  const columns = Math.max(WRAP, Math.round(period / side));
  const rows = Math.max(1, Math.round(span / side));
  const pixel = new Int32Array(relation.count);
  const start = new Uint32Array(columns * rows + 1);
  for (let i = 0; i < relation.count; i++) {
    pixel[i] = -1;
    if (Number.isNaN(departure[i])) continue;
    const c = Math.min(columns - 1, Math.max(0, Math.floor(((relation.u[i] - uMin) / period) * columns)));
    const r = Math.min(rows - 1, Math.max(0, Math.floor(((relation.height[i] - low) / span) * rows)));
    pixel[i] = r * columns + c;
    start[pixel[i] + 1]++;
  }
  for (let k = 0; k < columns * rows; k++) start[k + 1] += start[k];
  const points = new Uint32Array(start[columns * rows]);
  const next = start.slice(0, columns * rows);
  for (let i = 0; i < relation.count; i++) if (pixel[i] >= 0) points[next[pixel[i]]++] = i;
  const lattice = { columns, rows, width: period / columns, height: span / rows, uMin, low, start, points };
  const z = (i: number): number => Math.min(CLIP, Math.max(-CLIP, departure[i] / noise));
  return {
    ...lattice,
    sum: runningSums(lattice, z),
    count: runningSums(lattice, () => 1),
    share: runningSums(lattice, (i) => share[i]),
  };
}

type Pixels = Pick<FaultLattice, 'columns' | 'rows' | 'start' | 'points'>;

function runningSums({ columns, rows, start, points }: Pixels, value: (i: number) => number): Float64Array {
  const stride = columns + WRAP + 1;
  const sums = new Float64Array(stride * (rows + 1));
  for (let r = 0; r < rows; r++) {
    let across = 0;
    for (let c = 0; c < columns + WRAP; c++) {
      const k = r * columns + (c < columns ? c : c - columns);
      for (let j = start[k]; j < start[k + 1]; j++) across += value(points[j]);
      sums[(r + 1) * stride + c + 1] = sums[r * stride + c + 1] + across;
    }
  }
  return sums;
}

/** Sum over the pixels of columns c … c + w − 1 and rows r … r + h − 1; c lies within the lattice. */
export function boxSum(sums: Float64Array, columns: number, c: number, r: number, w: number, h: number): number {
  const stride = columns + WRAP + 1;
  const a = r * stride + c;
  const b = a + h * stride;
  return sums[b + w] - sums[b] - sums[a + w] + sums[a];
}
