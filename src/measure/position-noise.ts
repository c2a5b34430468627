import { type DisplacementTerm, displacementUncertainty, tableAt } from '../fit/outline-posterior.ts';
import type { FittedOutline } from '../model/outline.ts';
import { parameterFrom } from './contour.ts';
import { sortedFeet } from './sorted-feet.ts';

/** What is known of an outline's own uncertainty. */
export interface PositionNoise {
  /**
   * Standard deviation (mm) of one point along the normal that stands for sums over many: where neighbours' errors go
   * together, that of as many independent points with the same sums.
   */
  sigma: number;
  points: number;
  /** Standard uncertainty (mm, k = 1) of the outline along its normal at a parameter. */
  at: (t: number) => number;
  /** Length (mm) of outline that holds one degree of freedom of the fit, its leverages being (u / sigma)². */
  window: (t: number) => number;
  /** Standard uncertainty of the direction (rad) and of the curvature (1/mm) of the outline at a parameter. */
  direction: (t: number) => number;
  curvature: (t: number) => number;
  /** Standard uncertainty of a sum of outward displacements, each times a gain; null for an interpolated outline. */
  sum: (terms: readonly DisplacementTerm[]) => number | null;
}

/** Points to either side that tell the spacing. */
const NEIGHBOURS = 20;
/** A local quadratic over n points is known to this many sigma / √n. */
const LOCAL_QUADRATIC = 1.5;
/** Noise below this share of the perimeter is taken for none. */
const NOISE_FREE = 1e-8;

/**
 * Returns the noise of a fitted outline, or null when there is none. The window is that of a local quadratic with the
 * same uncertainty as the outline.
 * @param perimeter length of the outline (mm)
 */
export function positionNoise(fitted: FittedOutline | undefined, perimeter: number): PositionNoise | null {
  if (!fitted || !(fitted.noise.sigma > NOISE_FREE * perimeter) || fitted.noise.at.length === 0) return null;
  const { points, at, u, direction, curvature, correlation } = fitted.noise;
  const sigma = fitted.noise.sigma * Math.sqrt((1 + correlation) / (1 - correlation));
  const { outline } = fitted;
  const read = (table: Float64Array, t: number): number => tableAt(outline.period, at, table, t);
  const value = (t: number) => read(u, t);
  const inside = (squared: number) => Math.max(5, (LOCAL_QUADRATIC * LOCAL_QUADRATIC * sigma * sigma) / squared);
  const sorted = sortedFeet(fitted).t;
  const half = (t: number) => {
    const near = spacingAt(sorted, outline.period, parameterFrom(outline, sorted[0], t));
    return Math.min(perimeter / 16, 0.5 * near * inside(value(t) ** 2));
  };
  return {
    sigma,
    points,
    at: value,
    window: (t) => (2 * half(t)) / (LOCAL_QUADRATIC * LOCAL_QUADRATIC),
    direction: (t) => read(direction, t),
    curvature: (t) => read(curvature, t),
    sum: (terms) => displacementUncertainty(outline, fitted.noise, terms),
  };
}

/** Returns the root sum of squares of the outline's uncertainty at the given parameters, null without noise. */
export function contactUncertainty(noise: PositionNoise | null, ...contacts: number[]): number | null {
  if (!noise) return null;
  return Math.hypot(...contacts.map((t) => noise.at(t)));
}

/** Mean distance of the parameters round one, over NEIGHBOURS to either side. */
function spacingAt(sorted: Float64Array, period: number, t: number): number {
  const n = sorted.length;
  let low = 0;
  let high = n;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (sorted[middle] <= t) low = middle;
    else high = middle;
  }
  const reach = Math.min(NEIGHBOURS, (n - 1) >> 1);
  const after = sorted[(low + reach) % n] + (low + reach >= n ? period : 0);
  const before = sorted[(low - reach + n) % n] - (low < reach ? period : 0);
  return reach > 0 ? (after - before) / (2 * reach) : period;
}
