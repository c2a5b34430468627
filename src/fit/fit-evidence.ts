import { type CyclicMatrix, inverseCyclic } from '../math/banded-cyclic.ts';
import type { FittedOutline, OutlineNoise } from '../model/outline.ts';
import { dataGaps } from './data-gaps.ts';
import { chordParameters, interpolateOutline } from './interpolate-outline.ts';
import { jointEffects } from './joint-effects.ts';
import { inflation } from './noise-correlation.ts';
import { tablePlaces } from './noise-places.ts';
import type { FitState } from './refine-fit.ts';
import { functionVariance } from './spline-functions.ts';
import { effectiveParameters } from './spline-system.ts';

/**
 * Root of the sum of squares of slope and second derivative, at a knot, of the cardinal cubic splines of unit spacing: what
 * independent errors of interpolated values make of them.
 */
const CARDINAL_SLOPE = 1.17996;
const CARDINAL_BEND = 6;

/**
 * Returns the standard uncertainty of the outline along its normal, of its direction and of its curvature, from the
 * posterior covariance of the smoothed fit, sigma² (B'WB + smoothing)⁻¹, which allows for smoothing bias (Wahba, JRSS B
 * 45, 1983); correlated residuals widen it by the loss of independent points, (1 + r) / (1 − r). What the doubt about
 * the joints of known edge shapes changes is added.
 */
export function noiseTable(state: FitState): OutlineNoise {
  const { outline, points, system, factor, correlation } = state;
  const inverse = factor ? inverseCyclic(factor) : null;
  const sigma = sigmaWith(state, inverse);
  const spread = sigma * Math.sqrt(inflation(correlation));
  const places = tablePlaces(outline);
  const table = [0, 1, 2].map(() => new Float64Array(places.length));
  let posterior: OutlineNoise['posterior'];
  if (system && factor && inverse) {
    const joints = jointEffects(state, system, factor);
    const moved = joints.map((effect) => Float64Array.from(places, (place) => effect(place)[0]));
    posterior = { factor, spread, joints: moved };
    places.forEach((place, i) => {
      place.functions.forEach((of, q) => {
        const variance = spread * spread * functionVariance(system.closed, inverse, of);
        table[q][i] = Math.sqrt(joints.reduce((sum, effect) => sum + effect(place)[q] ** 2, variance));
      });
    });
  }
  const [u, direction, curvature] = table;
  return {
    sigma,
    correlation,
    points: points.length >> 1,
    at: Float64Array.from(places, ({ t }) => t),
    u,
    direction,
    curvature,
    ...(posterior ? { posterior } : {}),
  };
}

/** Returns the standard deviation of a point along the normal from a fit's residuals (mm). */
export function residualSigma(state: FitState): number {
  return sigmaWith(state, state.factor ? inverseCyclic(state.factor) : null);
}

function sigmaWith({ weights, distances, system }: FitState, inverse: CyclicMatrix | null): number {
  let sum = 0;
  let used = 0;
  for (let i = 0; i < weights.length; i++) {
    if (weights[i] === 0) continue;
    sum += distances[i] * distances[i];
    used++;
  }
  const effective = system && inverse ? effectiveParameters(system, inverse).reduce((a, b) => a + b, 0) : 0;
  return Math.sqrt(sum / Math.max(1, used - effective));
}

/** Returns the outline through every point, for points free of noise. */
export function interpolatedFit(points: Float64Array, corners: readonly number[], sigma: number): FittedOutline {
  const count = points.length >> 1;
  const outline = interpolateOutline(points, { corners });
  const parameters = chordParameters(points).at;
  const gaps = parameters.map((_, i) => {
    const before = i > 0 ? parameters[i - 1] : parameters[count - 1] - outline.period;
    const after = i + 1 < count ? parameters[i + 1] : parameters[0] + outline.period;
    return 0.5 * (after - before);
  });
  return {
    outline,
    noise: {
      sigma,
      correlation: 0,
      points: count,
      at: parameters.slice(),
      u: new Float64Array(count).fill(sigma),
      direction: gaps.map((gap) => (CARDINAL_SLOPE * sigma) / gap),
      curvature: gaps.map((gap) => (CARDINAL_BEND * sigma) / (gap * gap)),
    },
    rms: 0,
    max: 0,
    points,
    parameters,
    weights: new Float64Array(count).fill(1),
    gaps: dataGaps(outline, parameters),
    setAside: [],
    converged: true,
    iterations: 1,
    shapes: [],
  };
}
