import type { Relation } from '../model/relation.ts';
import { boxSum, type FaultLattice } from './faults-lattice.ts';

/** Points that depart together to one side, joined. */
export interface FaultCluster {
  sign: 1 | -1;
  /** Indices of the points in the relation. */
  members: number[];
}

/** Windows of local means, pixels along the outline by pixels along the span. */
const WINDOWS: readonly (readonly [number, number])[] = [
  [2, 2],
  [2, 4],
  [4, 2],
  [3, 3],
  [3, 5],
  [5, 3],
  [4, 4],
  [4, 8],
  [8, 4],
  [8, 8],
];
/** Chance that noise alone gives any defect on a part. */
const FALSE_ALARM = 1e-3;
/** Fewest points that agree: what fewer say may be strays. */
const AGREEING = 4;
/** … of which this many by far: strays seldom lie three together. */
const LEAST_SURE = 3;
const LEAST_IN_WINDOW = 3;
/** A point, or a mean of nine pixels, belongs to a defect beyond so many of its standard deviations. */
const POINT_SIGMAS = 3;
const MEAN_SIGMAS = 3.5;
/** Pixels apart that still hang together. */
const JOIN = 2;

/**
 * Returns the clusters of points whose local mean departs significantly from the surroundings: means over windows of
 * several sizes against their standard deviation (points and surroundings), with a false alarm of 1e-3 over all windows of
 * the part; departures clipped, and at least four points that depart by themselves, so that strays do not count. A cluster takes
 * every joined pixel within such windows that departs.
 * @param departure mm, NaN where unknown
 * @param noise standard deviation of a point (mm)
 */
export function faultClusters(
  relation: Relation,
  lattice: FaultLattice,
  departure: Float64Array,
  noise: number,
): FaultCluster[] {
  const { columns, rows, start, points } = lattice;
  const tests = 2 * WINDOWS.length * columns * rows;
  const marks = significantPixels(lattice, normalQuantile(FALSE_ALARM / tests));
  const clusters: FaultCluster[] = [];
  if (!marks) return clusters;
  for (const sign of [-1, 1] as const) {
    const bit = sign < 0 ? 1 : 2;
    const hot = new Uint8Array(columns * rows);
    for (let k = 0; k < hot.length; k++) {
      if ((marks[k] & bit) === 0 || start[k] === start[k + 1]) continue;
      let far = false;
      for (let j = start[k]; j < start[k + 1]; j++) if (sign * departure[points[j]] > POINT_SIGMAS * noise) far = true;
      if (far || sign * meanAround(lattice, k) > MEAN_SIGMAS) hot[k] = 1;
    }
    for (let k = 0; k < hot.length; k++) {
      if (hot[k] !== 1) continue;
      const members: number[] = [];
      let sure = 0;
      for (const pixel of flood(hot, k, columns, rows)) {
        for (let j = start[pixel]; j < start[pixel + 1]; j++) {
          const size = sign * departure[points[j]];
          if (size > 2 * noise) members.push(points[j]);
          if (size > POINT_SIGMAS * noise) sure++;
        }
      }
      if (members.length >= AGREEING && sure >= LEAST_SURE && apart(relation, members))
        clusters.push({ sign, members });
    }
  }
  return clusters;
}

/** Marks (1 low, 2 high) the pixels of windows whose mean is significant; null when there are none. */
function significantPixels(lattice: FaultLattice, limit: number): Uint8Array | null {
  const { columns, rows, sum, count, share } = lattice;
  let marks: Uint8Array | null = null;
  for (const [w, h] of WINDOWS) {
    for (let r = 0; r + h <= rows; r++) {
      for (let c = 0; c < columns; c++) {
        const s = boxSum(sum, columns, c, r, w, h);
        // The least variance of a window is that of its points alone.
        const n = boxSum(count, columns, c, r, w, h);
        if (n < LEAST_IN_WINDOW || s * s <= limit * limit * n) continue;
        if (s * s <= limit * limit * n * (1 + boxSum(share, columns, c, r, w, h))) continue;
        marks ??= new Uint8Array(columns * rows);
        for (let y = r; y < r + h; y++) {
          for (let x = c; x < c + w; x++) marks[y * columns + (x % columns)] |= s < 0 ? 1 : 2;
        }
      }
    }
  }
  return marks;
}

/** Mean of the pixel and its neighbours in standard deviations. */
function meanAround(lattice: FaultLattice, pixel: number): number {
  const { columns, rows, sum, count, share } = lattice;
  const r = Math.min(Math.max(Math.floor(pixel / columns) - 1, 0), Math.max(0, rows - 3));
  const c = ((pixel % columns) - 1 + columns) % columns;
  const h = Math.min(3, rows);
  const n = boxSum(count, columns, c, r, 3, h);
  return n < AGREEING ? 0 : boxSum(sum, columns, c, r, 3, h) / Math.sqrt(n * (1 + boxSum(share, columns, c, r, 3, h)));
}

/** Takes the hot pixels joined to one (its mark becomes 2). */
function flood(hot: Uint8Array, seed: number, columns: number, rows: number): number[] {
  const found = [seed];
  hot[seed] = 2;
  for (let k = 0; k < found.length; k++) {
    const r = Math.floor(found[k] / columns);
    const c = found[k] % columns;
    for (let y = Math.max(0, r - JOIN); y <= Math.min(rows - 1, r + JOIN); y++) {
      for (let dx = -JOIN; dx <= JOIN; dx++) {
        const next = y * columns + ((c + dx + columns) % columns);
        if (hot[next] !== 1) continue;
        hot[next] = 2;
        found.push(next);
      }
    }
  }
  return found;
}

/** False when the points repeat one place: repeats of a stray are no defect. */
function apart(relation: Relation, members: readonly number[]): boolean {
  const places = new Set(members.map((i) => `${relation.u[i]} ${relation.height[i]}`));
  return places.size >= AGREEING;
}

/** Returns the z that a standard normal number exceeds with a small chance (continued fraction of the tail, bisection). */
export function normalQuantile(chance: number): number {
  let low = 0;
  let high = 40;
  for (let turn = 0; turn < 60; turn++) {
    const z = 0.5 * (low + high);
    // Laplace's continued fraction of the tail, good to 1e-6 beyond 1.
    let fraction = z;
    for (let k = 40; k > 0; k--) fraction = z + k / fraction;
    const tail = Math.exp(-0.5 * z * z) / (Math.sqrt(2 * Math.PI) * fraction);
    if (tail > chance) low = z;
    else high = z;
  }
  return low;
}
