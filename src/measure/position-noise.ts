import type { FittedOutline } from '../model/outline.ts';
import { parameterFrom } from './contour.ts';

/** What is known of an outline's own uncertainty. */
export interface PositionNoise {
  /** Standard deviation of one point along the normal (mm). */
  sigma: number;
  points: number;
  /** Standard uncertainty (mm, k = 1) of the outline along its normal at a parameter. */
  at: (t: number) => number;
  /** Length (mm) over which the outline's errors hang together. */
  window: number;
}

/** A local quadratic over n points is known to this many sigma / √n. */
const LOCAL_QUADRATIC = 1.5;

/**
 * Returns the noise of a fitted outline, or null when there is none. The window is that of a local quadratic with the
 * same uncertainty as the outline has on average.
 * @param perimeter length of the outline (mm)
 */
export function positionNoise(fitted: FittedOutline | undefined, perimeter: number): PositionNoise | null {
  if (!fitted || !(fitted.noise.sigma > 0) || fitted.noise.at.length === 0) return null;
  const { sigma, points, at, u } = fitted.noise;
  const { outline } = fitted;
  const n = at.length;
  const value = (t: number): number => {
    const wrapped = parameterFrom(outline, at[0], t);
    let low = 0;
    let high = n;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (at[middle] <= wrapped) low = middle;
      else high = middle;
    }
    const next = low + 1 < n ? at[low + 1] : at[0] + outline.period;
    const part = next > at[low] ? (wrapped - at[low]) / (next - at[low]) : 0;
    return u[low] + part * (u[(low + 1) % n] - u[low]);
  };
  let squares = 0;
  for (let i = 0; i < n; i++) squares += u[i] * u[i];
  const inside = Math.max(1, (LOCAL_QUADRATIC * LOCAL_QUADRATIC * sigma * sigma * n) / squares);
  return { sigma, points, at: value, window: Math.min(perimeter / 8, (inside * perimeter) / Math.max(1, points)) };
}

/** Returns the root sum of squares of the outline's uncertainty at the given parameters, null without noise. */
export function contactUncertainty(noise: PositionNoise | null, ...contacts: number[]): number | null {
  if (!noise) return null;
  return Math.hypot(...contacts.map((t) => noise.at(t)));
}
