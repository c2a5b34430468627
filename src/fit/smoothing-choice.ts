import { inverseCyclic } from '../math/banded-cyclic.ts';
import type { ClosedKnots } from './closed-basis.ts';
import { type FeatureSize, featureAt } from './knots-outline.ts';
import { pilotBends } from './pilot-bends.ts';
import type { ShapedSpans } from './shaped-spans.ts';
import {
  effectiveParameters,
  normalSquares,
  type SplineSolution,
  type SplineSystem,
  solveSpline,
} from './spline-system.ts';

/** Search range of the dimensionless strength, decades; below the least the knots would be free to swing. */
const LEAST = -5;
const MOST = 3;
/** Search range of the power of the feature size. Six smooths edges and flanks alike, in shares of their radius. */
const FLATTEST = 3;
const STEEPEST = 8;
const FIRST_POWER = 5;
/** Decades by which spans drawn to a known shape may be held more strongly; what is looser must earn it. */
const HELD = [5, 3, 2, 0];
/** Share of the smoothing of least expected error that is used: its bias then is small against its scatter (Hall, 1992). */
const UNDER = 0.3;
/** Another rule of feature size, or a looser hold on a shape, must lower the expected error by this much: less is chance. */
const MARGIN = 8;
/** A pilot is smoothed so much more than the fit itself, and its search ends at this decade. */
const PILOT_MORE = 100;
const PILOT_LEAST = -3;

/** Standard deviation of a point along the normal (mm), and how much more sums of points vary than independent ones would. */
export interface PointNoise {
  sigma: number;
  inflation: number;
}

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
 * (Mallows, Technometrics 15, 1973). Tried are decades of strength, whole powers of the feature size, the given tables of
 * it, and last the size of the third derivative that the best of these leaves behind (see `pilotBends`). Of the result
 * a share is used, so that its bias is small against its scatter.
 * @param features feature sizes by different rules
 */
export function chooseSmoothing(
  system: SplineSystem,
  features: readonly FeatureSize[],
  density: number,
  noise: PointNoise,
  tangential: number,
  shaped?: ShapedSpans,
): Smoothing {
  const { closed } = system;
  const { sigma } = noise;
  const best = { decade: MOST, cost: Number.POSITIVE_INFINITY, spans: new Float64Array() };
  const consider = (decade: number, spans: Float64Array): boolean => {
    const solution = solveSpline(system, spans, tangential, shaped?.targets);
    if (!solution) return false;
    const cost = expectedError(system, solution, noise);
    if (!(cost < best.cost)) return false;
    Object.assign(best, { decade, cost, spans });
    return true;
  };
  let [feature] = features;
  let [power, held] = [FIRST_POWER, shaped ? HELD[0] : 0];
  const ofFeature = (decade: number) => spanSmoothing(closed, feature, density, 10 ** decade, power, shaped, held);
  const around = (steps: readonly number[]): boolean => {
    const { decade } = best;
    return steps
      .map((step) => decade + step >= LEAST && consider(decade + step, ofFeature(decade + step)))
      .includes(true);
  };
  for (let decade = MOST; decade >= LEAST; decade--) consider(decade, ofFeature(decade));
  const clearly = (change: () => void, undo: () => void, steps: readonly number[]) => {
    const now = { ...best };
    best.cost -= MARGIN;
    change();
    if (around(steps)) return;
    undo();
    Object.assign(best, now);
  };
  for (const looser of shaped ? HELD.slice(1) : []) {
    const before = held;
    clearly(() => {
      held = looser;
    }, () => {
      held = before;
    }, [-1, 0, 1]);
  }
  for (const other of features.slice(1)) {
    const before = feature;
    clearly(() => {
      feature = other;
    }, () => {
      feature = before;
    }, [-3, -2, -1, 0, 1, 2, 3]);
  }
  for (const turn of [1, -1]) {
    for (let next = FIRST_POWER + turn; next >= FLATTEST && next <= STEEPEST; next += turn) {
      const before = power;
      power = next;
      if (around([-1, 0, 1, 2])) continue;
      power = before;
      break;
    }
  }
  around([-0.5, 0.5]);
  const smoother = solveSpline(
    system,
    best.spans.map((span) => PILOT_MORE * span),
    tangential,
    shaped?.targets,
  );
  if (smoother) {
    const pilot = pilotBends(closed, shaped, smoother.controls);
    const ofPilot = (decade: number) =>
      pilotSmoothing(pilot, (sigma * sigma) / closed.period, 10 ** decade, shaped, held);
    for (let decade = MOST; decade >= PILOT_LEAST; decade -= 0.5) consider(decade, ofPilot(decade));
  }
  return { spans: best.spans.map((span) => span * UNDER), cost: best.cost };
}

/** Mallows' criterion; a smooth fit follows errors that go together as it would follow independent ones of their sums. */
function expectedError(
  system: SplineSystem,
  { controls, factor }: SplineSolution,
  { sigma, inflation }: PointNoise,
): number {
  let trace = 0;
  for (const part of effectiveParameters(system, inverseCyclic(factor))) trace += part;
  return normalSquares(system, controls) / (sigma * sigma) + 2 * inflation * trace;
}

/** Smoothing strength × scale / pilot² in each span, spans on a shape held more strongly. */
function pilotSmoothing(
  pilot: Float64Array,
  scale: number,
  strength: number,
  shaped: ShapedSpans | undefined,
  held: number,
): Float64Array {
  return pilot.map((size, k) => ((scale * strength) / (size * size)) * (shaped?.mask[k] === 1 ? 10 ** held : 1));
}
