import { inverseCyclic } from '../math/banded-cyclic.ts';
import type { ClosedKnots } from './closed-basis.ts';
import { type FeatureSize, featureAt } from './knots-outline.ts';
import type { ShapedSpans } from './shaped-spans.ts';
import { effectiveParameters, normalSquares, type SplineSystem, solveSpline } from './spline-system.ts';

/** Search range of the dimensionless strength, decades; below the least the knots would be free to swing. */
const LEAST = -5;
const MOST = 3;
/** Search range of the power of the feature size. Six smooths edges and flanks alike, in shares of their radius. */
const FLATTEST = 3;
const STEEPEST = 8;
const FIRST_POWER = 5;
/** Decades by which spans drawn to a known shape may be held more strongly. */
const HELD = [0, 2, 4, 7];
/** Share of the smoothing of least expected error that is used: its bias then is small against its scatter (Hall, 1992). */
const UNDER = 0.3;
/** Stands for the family that follows a pilot instead of a power of the feature size. */
const PILOT = 0;

/** Smoothing of each knot span and the expected error of a fit with it, in units of sigma². */
export interface Smoothing {
  spans: Float64Array;
  cost: number;
}

/**
 * Returns the weight of |C'''|² in each knot span: strength × mean point density × (local feature size / largest)^power
 * × largest⁶, so that a bend of the local radius is held back at a fine edge much as on a flank.
 * @param density points per mm
 * @param shaped spans drawn to a known shape, held by so many more decades
 */
export function spanSmoothing(
  closed: ClosedKnots,
  feature: FeatureSize,
  density: number,
  strength: number,
  power = FIRST_POWER,
  shaped?: ShapedSpans,
  held = 0,
): Float64Array {
  const whole = strength * density * feature.largest ** 6;
  return closed.knots.map((_, k) => {
    const middle = 0.5 * (closed.extended[k + 3] + closed.extended[k + 4]);
    const own = whole * (featureAt(feature, middle) / feature.largest) ** power;
    return shaped && shaped.mask[k] === 1 ? own * 10 ** held : own;
  });
}

/**
 * Returns the smoothing with the least expected error: residual sum of squares / sigma² + 2 × effective parameters
 * (Mallows, Technometrics 15, 1973), over half decades of strength and whole powers of the feature size.
 * @param sigma standard deviation of a point along the normal (mm)
 */
export function chooseSmoothing(
  system: SplineSystem,
  features: readonly FeatureSize[],
  density: number,
  sigma: number,
  tangential: number,
  shaped?: ShapedSpans,
  pilot?: Float64Array,
): Smoothing {
  let [feature] = features;
  const best = { decade: MOST, power: FIRST_POWER, held: 0, cost: Number.POSITIVE_INFINITY, spans: new Float64Array() };
  const consider = (decade: number, power: number, held = best.held) => {
    const spans =
      power === PILOT
        ? pilotSmoothing(system, pilot!, sigma, 10 ** decade, shaped, held)
        : spanSmoothing(system.closed, feature, density, 10 ** decade, power, shaped, held);
    const solution = decade >= LEAST ? solveSpline(system, spans, tangential, shaped?.targets) : null;
    if (!solution) return false;
    const sum = normalSquares(system, solution.controls);
    let trace = 0;
    for (const part of effectiveParameters(system, inverseCyclic(solution.factor))) trace += part;
    const cost = sum / (sigma * sigma) + 2 * trace;
    if (!(cost < best.cost)) return false;
    Object.assign(best, { decade, power, held, cost, spans });
    return true;
  };
  for (let decade = MOST; decade >= LEAST; decade--) consider(decade, FIRST_POWER);
  if (shaped) for (const held of HELD) consider(best.decade, best.power, held);
  for (const other of features.slice(1)) {
    const before = feature;
    feature = other;
    const better = [-3, -2, -1, 0, 1, 2, 3].map((step) => consider(best.decade + step, FIRST_POWER));
    if (!better.includes(true)) feature = before;
  }
  for (const turn of [1, -1]) {
    for (let power = FIRST_POWER + turn; power >= FLATTEST && power <= STEEPEST; power += turn) {
      const { decade } = best;
      const better = [-1, 0, 1, 2].map((step) => consider(decade + step, power));
      if (!better.includes(true)) break;
    }
  }
  if (pilot) for (let decade = MOST; decade >= -3; decade--) consider(decade, PILOT);
  for (const step of [-0.5, 0.5]) consider(best.decade + step, best.power);
  return { spans: best.spans.map((span) => span * UNDER), cost: best.cost };
}

/**
 * Smoothing that follows a pilot: strength × sigma² / pilot², a span its length; of strength 1 it is the one for third
 * derivatives that scatter by the pilot over the window.
 */
function pilotSmoothing(
  system: SplineSystem,
  pilot: Float64Array,
  sigma: number,
  strength: number,
  shaped: ShapedSpans | undefined,
  held: number,
): Float64Array {
  const scale = (strength * sigma * sigma) / system.closed.period;
  return pilot.map((size, k) => (scale / (size * size)) * (shaped?.mask[k] === 1 ? 10 ** held : 1));
}
