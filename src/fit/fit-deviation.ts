import { type CyclicMatrix, inverseCyclic } from '../math/banded-cyclic.ts';
import type { Outline } from '../model/outline.ts';
import { type ClosedKnots, closedKnots } from './closed-basis.ts';
import {
  effectiveValues,
  solveValues,
  type ValueSolution,
  type ValueSystem,
  valueResiduals,
  valueSystem,
  weighValues,
} from './deviation-spline.ts';
import { likelyStrength, localStrength } from './deviation-strength.ts';
import { insertKnots } from './insert-knots.ts';
import {
  arcLengths,
  type FeatureSize,
  featureKnots,
  featureSize,
  limitToPoints,
  populatedKnots,
} from './knots-outline.ts';
import { noiseCorrelation } from './noise-correlation.ts';
import { type OutlineArc, outlineArc } from './outline-arc.ts';
import { outlineBends } from './refine-fit.ts';
import { medianScale, robustWeights } from './robust-weights.ts';

/** Deviation along the normals of a nominal outline as a spline of its arc length. */
export interface DeviationFit {
  /** Arc length of the nominal, from its first knot. */
  arc: OutlineArc;
  closed: ClosedKnots;
  /** The deviation over arc length as the first co-ordinate of a closed spline. */
  spline: Outline;
  /** Cholesky factor of data matrix + smoothing. */
  factor: CyclicMatrix;
  /** Inverse of data matrix + smoothing: covariance of the coefficients for unit variance of one point. */
  inverse: CyclicMatrix;
  /** Arc length of each point's foot within the spline's period, and spline − deviation there (mm). */
  at: Float64Array;
  residuals: Float64Array;
  weights: Float64Array;
  /** Standard deviation of one point (mm) by the residuals. */
  sigma: number;
  /** Lag-1 correlation of the residuals, not below 0. */
  correlation: number;
  rounds: number;
  /** True when the weights stood at the end. */
  converged: boolean;
}

/** Largest turn of the nominal in a span (rad), least length in noise widths, least number of spans without bends. */
const TURN = (15 * Math.PI) / 180;
const LEAST_SPAN = 12;
const LARGEST_SPANS = 96;
/** Every span holds so many points, unless it would grow to a thirteenth of the turn. */
const LEAST_POINTS = 4;
const SMOOTH_SLOPE = 0.5;
const INSERT_ROUNDS = 6;
const ROBUST_ROUNDS = 12;
const SET_ASIDE_CAP = 0.02;
/** The fit stands when the weights change by less than this. */
const STEADY = 0.01;

/**
 * Returns the deviation along the nominal's normals as a smoothing spline of arc length, or null where it cannot be
 * solved. The penalty is on the third derivative; its strength is the one of greatest restricted likelihood, then follows
 * the bends found. Knots follow the nominal's bends and are inserted where residuals are alike from point to point. At
 * corners of the nominal the deviation may jump.
 * @param parameters feet of the points on the nominal, points in counter-clockwise order
 * @param deviations signed distances (mm, positive outside)
 * @param usable 0 for points that tell nothing of the deviation, such as those that lie off a corner
 * @param sigma standard deviation of a point along the normal (mm)
 */
export function fitDeviation(
  nominal: Outline,
  parameters: Float64Array,
  deviations: Float64Array,
  usable: Uint8Array,
  sigma: number,
): DeviationFit | null {
  const arc = outlineArc(nominal);
  const period = arc.length[arc.length.length - 1];
  const bends = outlineBends(arc);
  const corners = [...arcLengths(arc, nominal.corners)];
  const fine = featureSize(bends, TURN, LEAST_SPAN * sigma, period / LARGEST_SPANS, SMOOTH_SLOPE);
  const smooth = featureSize(bends, TURN, LEAST_SPAN * sigma, period / 8, SMOOTH_SLOPE);
  let at = arcLengths(arc, parameters);
  limitToPoints(fine, at, 3);
  let knots = featureKnots(
    fine,
    corners.map((s) => ({ at: s, copies: 4 })),
    12,
  );
  at = at.map((s) => (s < knots[0] ? s + period : s));
  const fixed = corners.map((s) => (s < knots[0] ? s + period : s));
  knots = populatedKnots(knots, period, at, fixed, LEAST_POINTS, period / 13);
  const weights = Float64Array.from(usable);
  const residuals = new Float64Array(at.length);
  let cost = Number.POSITIVE_INFINITY;
  let fit: DeviationFit | null = null;
  for (let insert = 0; insert <= INSERT_ROUNDS; insert++) {
    const system = valueSystem(closedKnots(knots, period), at, deviations);
    const own = weights.slice();
    const solved = solveRobustly(system, smooth, sigma, own, usable, residuals);
    if (!solved) break;
    const inverse = inverseCyclic(solved.factor);
    const effective = effectiveValues(system, inverse);
    const squares = residuals.reduce((sum, r, i) => sum + own[i] * r * r, 0);
    // Mallows' expected error: knots that do not lower it are not kept.
    const expected = squares / (sigma * sigma) + 2 * effective;
    if (!(expected < cost)) break;
    cost = expected;
    weights.set(own);
    const correlation = noiseCorrelation(residuals, weights);
    fit = {
      arc,
      closed: system.closed,
      spline: {
        degree: 3,
        period,
        knots,
        controlX: solved.coefficients,
        controlY: new Float64Array(knots.length),
        corners: Float64Array.from(fixed),
      },
      factor: solved.factor,
      inverse,
      at,
      residuals: residuals.slice(),
      weights: own,
      sigma: residualScale(residuals, own, effective),
      correlation,
      rounds: insert + 1,
      converged: solved.steady,
    };
    const more = insertKnots(system, residuals, sigma, correlation);
    if (!more) break;
    knots = more.knots;
  }
  return fit;
}

/** Strength and robust weights in turns, until the weights stand. */
function solveRobustly(
  system: ValueSystem,
  smooth: FeatureSize,
  sigma: number,
  weights: Float64Array,
  usable: Uint8Array,
  residuals: Float64Array,
): (ValueSolution & { steady: boolean }) | null {
  const density = weights.length / system.closed.period;
  let spans: Float64Array = new Float64Array();
  let solution: ValueSolution | null = null;
  let steady = false;
  const before = new Float64Array(weights.length);
  for (let round = 0; round < ROBUST_ROUNDS; round++) {
    weighValues(system, weights);
    if (round < 3) spans = localStrength(system, likelyStrength(system, smooth, density, sigma).spans, sigma);
    solution = solveValues(system, spans);
    if (!solution) return null;
    valueResiduals(system, solution.coefficients, residuals);
    before.set(weights);
    const scale = Math.max(sigma, medianScale(residuals));
    robustWeights(residuals, scale, round < 2 ? 'huber' : 'tukey', SET_ASIDE_CAP, weights);
    let change = 0;
    for (let i = 0; i < weights.length; i++) {
      if (usable[i] === 0) weights[i] = 0;
      change = Math.max(change, Math.abs(weights[i] - before[i]));
    }
    steady = round > 2 && change < STEADY;
    if (steady) break;
  }
  return solution && { ...solution, steady };
}

function residualScale(residuals: Float64Array, weights: Float64Array, effective: number): number {
  let sum = 0;
  let used = 0;
  for (let i = 0; i < residuals.length; i++) {
    if (weights[i] === 0) continue;
    sum += residuals[i] * residuals[i];
    used++;
  }
  return Math.sqrt(sum / Math.max(1, used - effective));
}
