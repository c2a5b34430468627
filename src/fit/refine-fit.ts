import type { CyclicMatrix } from '../math/banded-cyclic.ts';
import type { EdgeShape, Outline } from '../model/outline.ts';
import { type ClosedKnots, closedKnots } from './closed-basis.ts';
import type { FitOptions } from './fit-outline.ts';
import type { GuideOutline } from './guide-outline.ts';
import { insertKnots } from './insert-knots.ts';
import {
  arcLengths,
  type FeatureSize,
  type FixedKnot,
  featureKnots,
  featureSize,
  limitToPoints,
  narrowed,
  populatedKnots,
} from './knots-outline.ts';
import type { Bends } from './node-bends.ts';
import { inflation, noiseCorrelation } from './noise-correlation.ts';
import { type OutlineArc, outlineArc, parameterAtLength } from './outline-arc.ts';
import { evaluateOutline } from './outline-evaluate.ts';
import { outlineFeet } from './outline-foot.ts';
import { outlineNormals } from './outline-normals.ts';
import { medianScale, robustWeights } from './robust-weights.ts';
import { type PlacedShape, shapedSpans } from './shaped-spans.ts';
import { chooseSmoothing, spanSmoothing } from './smoothing-choice.ts';
import { normalResiduals, type SplineSystem, solveSpline, splineSystem } from './spline-system.ts';

/** A fit under way: the outline, the points' feet on it and what the last solve left. */
export interface FitState {
  points: Float64Array;
  sigma: number;
  outline: Outline;
  /** Curvature that the first knots are set by. */
  bends: Bends;
  parameters: Float64Array;
  distances: Float64Array;
  weights: Float64Array;
  /** The last system and its factor. */
  system: SplineSystem | null;
  factor: CyclicMatrix | null;
  /** Correlation of one point's error with the next one's. */
  correlation: number;
  converged: boolean;
  iterations: number;
  /** Where the arcs of known shapes lie on the outline. */
  placed: PlacedShape[];
}

/** First share of the tangential component in a solve: damps sliding along the outline; raised while feet still slide. */
const TANGENTIAL = 0.02;
/** Rounds that choose knots anew; later ones only insert. */
const KNOT_ROUNDS = 2;
/** Even a straight outline has so many spans: smoothing, not the knots, is to hold the fit back. */
const LARGEST_SPANS = 48;
const INSERT_ROUNDS = 5;
/** Spans are at least this many noise widths long: what is finer cannot be told from noise. */
const LEAST_SPAN = 12;
/** Every span holds at least so many points, unless it would grow to a thirteenth of the turn. */
const LEAST_POINTS = 4;
const FIRST_STRENGTH = 1e-3;
/** Growth of the feature size that smoothing follows, per mm of arc. */
const SMOOTH_SLOPE = 0.5;
/** The same where the curvature may jump at the ends of known shapes: only the doubt of those ends is to be followed. */
const SHAPED_SLOPES = [4, 1.5];
/** The fit stands when the distances change by less than this share of the noise (root mean square). */
const STEADY = 0.01;

/** Returns the state before the first solve. */
export function startFit(guide: GuideOutline, points: Float64Array, parameters: Float64Array, sigma: number): FitState {
  const count = parameters.length;
  return {
    points,
    sigma,
    outline: guide.outline,
    bends: guide.bends,
    parameters,
    distances: new Float64Array(count),
    weights: new Float64Array(count).fill(1),
    system: null,
    factor: null,
    correlation: 0,
    converged: false,
    iterations: 0,
    placed: [],
  };
}

/**
 * Solves, reprojects and refines until neither the feet nor the knots change any more.
 * @param shapes shapes of edges, their arcs in parameters of the state's outline: the fit is drawn to them over their
 * arcs, as strongly as the noise allows, and its curvature may jump at their ends
 */
export function refineFit(
  state: FitState,
  options: Omit<FitOptions, 'corners' | 'guide' | 'sigma'>,
  shapes: readonly EdgeShape[] = [],
): FitState {
  const count = state.parameters.length;
  const residuals = new Float64Array(count);
  let smoothing: Float64Array = new Float64Array();
  let knots: Float64Array = new Float64Array();
  let smooth: FeatureSize | null = null;
  let others: FeatureSize[] = [];
  let settled = false;
  let inserts = 0;
  let cost = Number.POSITIVE_INFINITY;
  /** Knots before an insertion, kept until it has lowered the expected error. */
  let before: { knots: Float64Array; smooth: FeatureSize; cost: number } | null = null;
  let tangential = TANGENTIAL;
  let placed: PlacedShape[] = shapes.map((shape) => ({ shape, from: shape.joints[0], to: shape.joints[1] }));
  let best: FitState | null = null;
  let least = Number.POSITIVE_INFINITY;
  let lastChange = Number.POSITIVE_INFINITY;
  while (state.iterations < options.maxIterations) {
    const round = state.iterations++;
    let parameters = state.parameters;
    const normals = outlineNormals(state.outline, parameters, state.points);
    let { period } = state.outline;
    let corners = [...state.outline.corners];
    const previous = state.outline;
    let along: OutlineArc | null = null;
    if (round < KNOT_ROUNDS || !smooth) {
      const arc = outlineArc(state.outline);
      period = arc.length[arc.length.length - 1];
      parameters = arcLengths(arc, parameters);
      corners = [...arcLengths(arc, state.outline.corners)];
      along = arc;
      placed = placed.map(({ shape, from, to }) => alongArc(arc, shape, from, to));
      const joints = placed.flatMap(({ from, to }) => [from % period, to % period]);
      const turn = options.turn;
      const bends = round === 0 ? state.bends : outlineBends(arc);
      const feature = featureSize(bends, turn, LEAST_SPAN * state.sigma, period / LARGEST_SPANS, 0.5);
      limitToPoints(feature, parameters, 3);
      const fixed = fixedKnots(corners, joints);
      const fixedAt = fixed.map(({ at }) => at);
      knots = featureKnots(feature, fixed, 12);
      const fromFirst = (t: number) => (t < knots[0] ? t + period : t);
      parameters = parameters.map(fromFirst);
      corners = corners.map(fromFirst).sort((a, b) => a - b);
      knots = populatedKnots(knots, period, parameters, fixedAt, LEAST_POINTS, period / 13);
      smooth = featureSize(bends, turn, LEAST_SPAN * state.sigma, period / 8, SMOOTH_SLOPE);
      others = (shapes.length > 0 ? SHAPED_SLOPES : []).map((slope) =>
        featureSize(bends, turn, LEAST_SPAN * state.sigma, period / 8, slope),
      );
    }
    const closed = closedKnots(knots, period);
    const shaped = placed.length > 0 ? shapedSpans(closed, placed, placeOn(previous, along)) : undefined;
    const system = splineSystem(closed, state.points, parameters, normals, state.weights);
    if (round < KNOT_ROUNDS - 1) smoothing = spanSmoothing(closed, smooth, count / period, FIRST_STRENGTH);
    else if (!settled) {
      const choice = chooseSmoothing(
        system,
        [...others, smooth],
        count / period,
        { sigma: state.sigma, inflation: inflation(state.correlation) },
        tangential,
        shaped,
      );
      if (before && !(choice.cost < before.cost)) {
        ({ knots, smooth } = before);
        inserts = INSERT_ROUNDS;
        before = null;
        continue;
      }
      smoothing = choice.spans;
      cost = choice.cost;
    }
    const solution = solveSpline(system, smoothing, tangential, shaped?.targets);
    if (!solution) break;
    const distances = state.distances;
    state.outline = outlineOf(closed, solution.controls, corners);
    state.parameters = new Float64Array(count);
    state.distances = new Float64Array(count);
    outlineFeet(state.outline, state.points, parameters, state.parameters, state.distances);
    normalResiduals(system, solution.controls, state.weights, residuals);
    state.correlation = noiseCorrelation(residuals, state.weights);
    state.factor = solution.factor;
    state.system = system;
    state.placed = placed;
    const steady = round >= KNOT_ROUNDS;
    const more =
      steady && inserts < INSERT_ROUNDS ? insertKnots(system, residuals, state.sigma, state.correlation) : null;
    if (options.robust) {
      const scale = Math.max(state.sigma, medianScale(state.distances));
      robustWeights(state.distances, scale, steady && !more ? 'tukey' : 'huber', options.setAsideCap, state.weights);
    }
    if (!steady) continue;
    before = null;
    if (more) {
      before = { knots, smooth, cost };
      knots = more.knots;
      smooth = narrowed(smooth, more.halved, SMOOTH_SLOPE);
      inserts++;
      settled = false;
      continue;
    }
    let change = 0;
    for (let i = 0; i < count; i++) change += (state.distances[i] - distances[i]) ** 2;
    settled = true;
    if (change > 0.25 * lastChange) tangential = Math.min(1, 4 * tangential);
    lastChange = change;
    state.converged = Math.sqrt(change / count) < STEADY * state.sigma;
    if (state.converged) return state;
    const misfit = cutMisfit(state);
    if (misfit < least) {
      least = misfit;
      best = { ...state, weights: state.weights.slice() };
    }
  }
  return best ? { ...best, iterations: state.iterations } : state;
}

/** The arc of a shape by arc length along an outline. */
function alongArc(arc: OutlineArc, shape: EdgeShape, from: number, to: number): PlacedShape {
  const [start, end] = arcLengths(arc, Float64Array.of(within(arc, from), within(arc, to)));
  return { shape, from: start, to: end > start ? end : end + arc.length[arc.length.length - 1] };
}

/** A parameter moved by whole periods onto an outline's table. */
function within({ at }: OutlineArc, t: number): number {
  const period = at[at.length - 1] - at[0];
  return t - period * Math.floor((t - at[0]) / period);
}

/** Corners three times, joints twice, rising; a joint at a corner is the corner. */
function fixedKnots(corners: readonly number[], joints: readonly number[]): FixedKnot[] {
  const fixed: FixedKnot[] = corners.map((at) => ({ at, copies: 3 }));
  for (const at of joints) if (!corners.includes(at)) fixed.push({ at, copies: 2 });
  return fixed.sort((a, b) => a.at - b.at);
}

/** Point of an outline at a parameter, or at an arc length where its table is given. */
function placeOn(outline: Outline, arc: OutlineArc | null): (t: number, out: Float64Array) => void {
  if (!arc) return (t, out) => evaluateOutline(outline, t, out);
  const perimeter = arc.length[arc.length.length - 1];
  return (s, out) => evaluateOutline(outline, parameterAtLength(arc, s - perimeter * Math.floor(s / perimeter)), out);
}

/** Sum of squared distances, each cut at three noise widths: what stray points add does not decide which round is best. */
function cutMisfit(state: FitState): number {
  const cut = 3 * state.sigma;
  return state.distances.reduce((sum, d) => sum + Math.min(Math.abs(d), cut) ** 2, 0);
}

/** Curvature of an outline by arc length: the larger of the two ends of each step. */
export function outlineBends({ length, curvature }: OutlineArc): Bends {
  return { length, curvature: curvature.subarray(1).map((k, i) => Math.max(k, curvature[i])) };
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
