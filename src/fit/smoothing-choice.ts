import { inverseCyclic } from '../math/banded-cyclic.ts';
import type { ClosedKnots } from './closed-basis.ts';
import { type FeatureSize, featureAt } from './knots-outline.ts';
import {
  effectiveParameters,
  normalResiduals,
  type SplineSolution,
  type SplineSystem,
  solveSpline,
} from './spline-system.ts';

/** Search range of the dimensionless smoothing, decades. */
const LEAST = -7;
const MOST = 3;

/**
 * Returns the smoothing of each knot span for a dimensionless strength 1: mean point density × feature size⁶, so that a
 * bend of the local radius is held back equally at a fine edge and on a flank.
 * @param density points per mm
 */
export function smoothingProfile(closed: ClosedKnots, feature: FeatureSize, density: number): Float64Array {
  const profile = new Float64Array(closed.knots.length);
  for (let k = 0; k < profile.length; k++) {
    const middle = 0.5 * (closed.extended[k + 3] + closed.extended[k + 4]);
    profile[k] = density * featureAt(feature, middle) ** 6;
  }
  return profile;
}

/** Solves with a strength; null when it cannot be. */
export function solveWith(
  system: SplineSystem,
  profile: Float64Array,
  strength: number,
  tangential: number,
): SplineSolution | null {
  return solveSpline(
    system,
    profile.map((value) => value * strength),
    tangential,
  );
}

/**
 * Returns the smoothing strength with the least expected error: residual sum of squares / sigma² + 2 × effective
 * parameters (Mallows, Technometrics 15, 1973), by steps of half a decade downhill.
 * @param start strength to start from
 * @param sigma standard deviation of a point along the normal (mm)
 */
export function chooseSmoothing(
  system: SplineSystem,
  profile: Float64Array,
  weights: Float64Array,
  sigma: number,
  tangential: number,
  start: number,
): number {
  const residuals = new Float64Array(weights.length);
  const cost = (decade: number) => {
    const solution = solveWith(system, profile, 10 ** decade, tangential);
    if (!solution) return Number.POSITIVE_INFINITY;
    const sum = normalResiduals(system, solution.controls, weights, residuals);
    let trace = 0;
    for (const part of effectiveParameters(system, inverseCyclic(solution.factor))) trace += part;
    return sum / (sigma * sigma) + 2 * trace;
  };
  let best = Math.log10(start);
  let least = cost(best);
  for (const step of [1, 0.5]) {
    for (const direction of [-step, step]) {
      for (;;) {
        const next = best + direction;
        if (next < LEAST || next > MOST) break;
        const value = cost(next);
        if (!(value < least)) break;
        best = next;
        least = value;
      }
    }
  }
  return 10 ** best;
}
