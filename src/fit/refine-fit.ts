import type { CyclicMatrix } from '../math/banded-cyclic.ts';
import type { Outline } from '../model/outline.ts';
import { type ClosedKnots, closedKnots } from './closed-basis.ts';
import type { FitOptions } from './fit-outline.ts';
import { insertKnots } from './insert-knots.ts';
import { arcLengths, type FeatureSize, featureKnots, featureSize, limitToPoints } from './knots-outline.ts';
import { outlineArc } from './outline-arc.ts';
import { outlineFeet } from './outline-foot.ts';
import { outlineNormals } from './outline-normals.ts';
import { medianScale, robustWeights } from './robust-weights.ts';
import { chooseSmoothing, smoothingProfile, solveWith } from './smoothing-choice.ts';
import { normalResiduals, type SplineSystem, splineSystem } from './spline-system.ts';

/** A fit under way: the outline, the points' feet on it and what the last solve left. */
export interface FitState {
  points: Float64Array;
  sigma: number;
  outline: Outline;
  parameters: Float64Array;
  distances: Float64Array;
  weights: Float64Array;
  /** The last system and its factor. */
  system: SplineSystem | null;
  factor: CyclicMatrix | null;
  /** Lag-1 correlation of the residuals. */
  correlation: number;
  converged: boolean;
  iterations: number;
}

/** First share of the tangential component in a solve: damps sliding along the outline; raised while feet still slide. */
const TANGENTIAL = 0.02;
/** Rounds that choose knots anew; later ones only insert. */
const KNOT_ROUNDS = 2;
const INSERT_ROUNDS = 5;
/** Spans are at least this many noise widths long: what is finer cannot be told from noise. */
const LEAST_SPAN = 8;
const FIRST_STRENGTH = 1e-3;

/** Returns the state before the first solve. */
export function startFit(guide: Outline, points: Float64Array, parameters: Float64Array, sigma: number): FitState {
  const count = parameters.length;
  return {
    points,
    sigma,
    outline: guide,
    parameters,
    distances: new Float64Array(count),
    weights: new Float64Array(count).fill(1),
    system: null,
    factor: null,
    correlation: 0,
    converged: false,
    iterations: 0,
  };
}

/** Solves, reprojects and refines until neither the feet nor the knots change any more. */
export function refineFit(state: FitState, options: Omit<FitOptions, 'corners' | 'guide' | 'sigma'>): FitState {
  const count = state.parameters.length;
  const residuals = new Float64Array(count);
  let strength = FIRST_STRENGTH;
  let knots: Float64Array = new Float64Array();
  let smooth: FeatureSize | null = null;
  let settled = false;
  let inserts = 0;
  let tangential = TANGENTIAL;
  let lastChange = Number.POSITIVE_INFINITY;
  while (state.iterations < options.maxIterations) {
    const round = state.iterations++;
    let parameters = state.parameters;
    const normals = outlineNormals(state.outline, parameters, state.points);
    let { period } = state.outline;
    let corners = [...state.outline.corners];
    if (round < KNOT_ROUNDS || !smooth) {
      const arc = outlineArc(state.outline);
      period = arc.length[arc.length.length - 1];
      parameters = arcLengths(arc, parameters);
      corners = [...arcLengths(arc, state.outline.corners)];
      const turn = options.turn;
      const feature = featureSize(arc, turn, LEAST_SPAN * state.sigma, period / 28, 0.5);
      limitToPoints(feature, parameters, 3);
      knots = featureKnots(feature, corners, 12);
      smooth = featureSize(arc, turn, LEAST_SPAN * state.sigma, period / 8, 0.35);
      parameters = parameters.map((t) => (t < knots[0] ? t + period : t));
    }
    const closed = closedKnots(knots, period);
    const profile = smoothingProfile(closed, smooth, count / period);
    const system = splineSystem(closed, state.points, parameters, normals, state.weights);
    if (round >= KNOT_ROUNDS - 1 && !settled) {
      strength = chooseSmoothing(system, profile, state.weights, state.sigma, tangential, strength);
    }
    const solution = solveWith(system, profile, strength, tangential);
    if (!solution) break;
    const before = state.distances;
    state.outline = outlineOf(closed, solution.controls, corners);
    state.parameters = new Float64Array(count);
    state.distances = new Float64Array(count);
    outlineFeet(state.outline, state.points, parameters, state.parameters, state.distances);
    normalResiduals(system, solution.controls, state.weights, residuals);
    state.correlation = lagCorrelation(residuals, state.weights);
    state.factor = solution.factor;
    state.system = system;
    const steady = round >= KNOT_ROUNDS;
    const more =
      steady && inserts < INSERT_ROUNDS ? insertKnots(system, residuals, state.sigma, state.correlation) : null;
    if (options.robust) {
      const scale = Math.max(state.sigma, medianScale(state.distances));
      robustWeights(state.distances, scale, steady && !more ? 'tukey' : 'huber', options.setAsideCap, state.weights);
    }
    if (!steady) continue;
    if (more) {
      knots = more;
      inserts++;
      settled = false;
      continue;
    }
    let change = 0;
    for (let i = 0; i < count; i++) change += (state.distances[i] - before[i]) ** 2;
    settled = true;
    if (change > 0.25 * lastChange) tangential = Math.min(1, 4 * tangential);
    lastChange = change;
    state.converged = Math.sqrt(change / count) < 0.02 * state.sigma;
    if (state.converged) break;
  }
  return state;
}

function outlineOf(closed: ClosedKnots, controls: Float64Array, corners: number[]): Outline {
  const n = closed.knots.length;
  const controlX = new Float64Array(n);
  const controlY = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    controlX[i] = controls[2 * i];
    controlY[i] = controls[2 * i + 1];
  }
  return {
    degree: 3,
    period: closed.period,
    knots: closed.knots,
    controlX,
    controlY,
    corners: Float64Array.from(corners),
  };
}

function lagCorrelation(residuals: Float64Array, weights: Float64Array): number {
  let product = 0;
  let square = 0;
  const count = residuals.length;
  for (let i = 0; i < count; i++) {
    const next = i + 1 === count ? 0 : i + 1;
    product += Math.min(weights[i], weights[next]) * residuals[i] * residuals[next];
    square += weights[i] * residuals[i] * residuals[i];
  }
  return square > 0 ? Math.max(0, product / square) : 0;
}
