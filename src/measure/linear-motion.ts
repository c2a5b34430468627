import { solveSymmetric } from '../math/least-squares.ts';

/** A small motion, and the deviations it leaves. */
export interface LinearMotion {
  motion: Float64Array;
  left: Float64Array;
}

const MOST_ROUNDS = 400;
/** The weighted mean size of what is left is a lower bound of the largest; closer than this share they are the same. */
const CLOSE = 1e-6;

/**
 * Returns the motion of least squares and the deviations it leaves, null where the rows do not hold it.
 * @param rows change of each deviation by a unit of each motion; null rows take no part
 */
export function leastSquaresMotion(
  rows: readonly (number[] | null)[],
  deviation: Float64Array,
  weights?: Float64Array,
): LinearMotion | null {
  const free = rows.find((row) => row !== null)?.length ?? 0;
  const normal = new Float64Array(free * free);
  const right = new Float64Array(free);
  rows.forEach((row, k) => {
    if (!row) return;
    const weight = weights ? weights[k] : 1;
    for (let a = 0; a < free; a++) {
      right[a] += weight * row[a] * deviation[k];
      for (let b = 0; b < free; b++) normal[free * a + b] += weight * row[a] * row[b];
    }
  });
  const motion = free > 0 ? solveSymmetric(normal, right) : null;
  if (!motion) return null;
  const left = deviation.map((d, k) => rows[k]?.reduce((rest, value, a) => rest - value * motion[a], d) ?? d);
  return { motion, left };
}

/**
 * Returns the motion that leaves the smallest largest deviation, by least squares whose weights grow with what is left
 * (Lawson 1961).
 */
export function minimaxMotion(rows: readonly (number[] | null)[], deviation: Float64Array): LinearMotion | null {
  let weights = Float64Array.from(rows, (row) => (row ? 1 : 0));
  let best: LinearMotion | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const found = leastSquaresMotion(rows, deviation, weights);
    if (!found) break;
    const sizes = found.left.map((d, k) => (rows[k] ? Math.abs(d) : 0));
    const largest = sizes.reduce((most, d) => Math.max(most, d), 0);
    if (largest < least) [best, least] = [found, largest];
    const total = weights.reduce((sum, w) => sum + w, 0);
    const next = weights.map((w, k) => w * sizes[k]);
    const grown = next.reduce((sum, w) => sum + w, 0);
    if (!(grown > 0) || largest - grown / total < CLOSE * largest) break;
    weights = next.map((w) => w / grown);
  }
  return best;
}
