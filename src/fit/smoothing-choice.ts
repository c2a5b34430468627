import { inverseCyclic } from '../math/banded-cyclic.ts';
import type { ClosedKnots } from './closed-basis.ts';
import { type FeatureSize, featureAt } from './knots-outline.ts';
import { effectiveParameters, normalSquares, type SplineSystem, solveSpline } from './spline-system.ts';

/** Search range of the dimensionless strength, decades; below the least the knots would be free to swing. */
const LEAST = -5;
const MOST = 3;
/** Search range of the power of the feature size. Six smooths edges and flanks alike, in shares of their radius. */
const FLATTEST = 3;
const STEEPEST = 8;
const FIRST_POWER = 5;

/** Smoothing of each knot span and the expected error of a fit with it, in units of sigma². */
export interface Smoothing {
  spans: Float64Array;
  cost: number;
}

/**
 * Returns the weight of |C'''|² in each knot span: strength × mean point density × (local feature size / largest)^power
 * × largest⁶, so that a bend of the local radius is held back at a fine edge much as on a flank.
 * @param density points per mm
 */
export function spanSmoothing(
  closed: ClosedKnots,
  feature: FeatureSize,
  density: number,
  strength: number,
  power = FIRST_POWER,
): Float64Array {
  const whole = strength * density * feature.largest ** 6;
  return closed.knots.map((_, k) => {
    const middle = 0.5 * (closed.extended[k + 3] + closed.extended[k + 4]);
    return whole * (featureAt(feature, middle) / feature.largest) ** power;
  });
}

/**
 * Returns the smoothing with the least expected error: residual sum of squares / sigma² + 2 × effective parameters
 * (Mallows, Technometrics 15, 1973), over half decades of strength and whole powers of the feature size.
 * @param sigma standard deviation of a point along the normal (mm)
 */
export function chooseSmoothing(
  system: SplineSystem,
  feature: FeatureSize,
  density: number,
  sigma: number,
  tangential: number,
): Smoothing {
  const best = { decade: MOST, power: FIRST_POWER, cost: Number.POSITIVE_INFINITY };
  const smoothing = (decade: number, power: number) =>
    spanSmoothing(system.closed, feature, density, 10 ** decade, power);
  const consider = (decade: number, power: number) => {
    const solution = decade >= LEAST ? solveSpline(system, smoothing(decade, power), tangential) : null;
    if (!solution) return false;
    const sum = normalSquares(system, solution.controls);
    let trace = 0;
    for (const part of effectiveParameters(system, inverseCyclic(solution.factor))) trace += part;
    const cost = sum / (sigma * sigma) + 2 * trace;
    if (!(cost < best.cost)) return false;
    Object.assign(best, { decade, power, cost });
    return true;
  };
  for (let decade = MOST; decade >= LEAST; decade--) consider(decade, FIRST_POWER);
  for (const turn of [1, -1]) {
    for (let power = FIRST_POWER + turn; power >= FLATTEST && power <= STEEPEST; power += turn) {
      const { decade } = best;
      const better = [-1, 0, 1, 2].map((step) => consider(decade + step, power));
      if (!better.includes(true)) break;
    }
  }
  for (const step of [-0.5, 0.5]) consider(best.decade + step, best.power);
  return { spans: smoothing(best.decade, best.power), cost: best.cost };
}
