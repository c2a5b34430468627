import type { FittedOutline, Outline } from '../model/outline.ts';
import { dataGaps } from './data-gaps.ts';
import { sidedPoints } from './deviation-feet.ts';
import { deviationNoise } from './deviation-noise.ts';
import { movedOutline, movedParameter } from './deviation-outline.ts';
import { edgeShape } from './edge-shape.ts';
import { type DeviationFit, fitDeviation } from './fit-deviation.ts';
import { givenGuide } from './guide-outline.ts';
import { orderedFeet } from './ordered-feet.ts';
import { outlineFeet } from './outline-foot.ts';
import { findSectionEdges } from './section-edges.ts';

/** Noise widths by which the distance from the nominal may grow from one point to the next. */
const FOOT_JUMP = 8;
/** A deviation does not explain the points when residuals are this much wider than the noise and this much alike. */
const WIDE = 1.3;
const ALIKE = 0.25;

/**
 * Returns the nominal moved along its normals by a smooth deviation fitted to the points, with the evidence of the fit;
 * null where that does not serve: deviations beyond half the local radius, a rough nominal, corners that are too sharp,
 * or points that a smooth deviation does not explain.
 * @param points x0, y0, x1, … (mm), counter-clockwise
 * @param sigma standard deviation of a point along the normal (mm), above 0
 * @param starts parameter of the nominal near each point's foot; absent: searched
 */
export function fitFromNominal(
  nominal: Outline,
  points: Float64Array,
  sigma: number,
  starts: Float64Array | null = null,
): FittedOutline | null {
  if (!givenGuide(nominal, sigma)) return null;
  const { parameters, distances } = feetOf(nominal, points, sigma, starts);
  const usable = sidedPoints(nominal, parameters, distances, sigma);
  const fit = usable && fitDeviation(nominal, parameters, distances, usable, sigma);
  if (!fit || !explains(fit, sigma)) return null;
  const moved = movedOutline(nominal, fit);
  if (!moved) return null;
  const { outline } = moved;
  const count = parameters.length;
  const guess = parameters.map((t) => movedParameter(moved, nominal.period, t));
  const feet = new Float64Array(count);
  const off = new Float64Array(count);
  outlineFeet(outline, points, guess, feet, off);
  const weights = fit.weights.map((w, i) => (usable[i] === 1 || Math.abs(off[i]) > 3 * sigma ? w : 1));
  const evidence = { outline, points, parameters: feet, weights };
  const edges = findSectionEdges(outline);
  const shapes = [edges.leading, edges.trailing]
    .map((nose) => edgeShape(evidence, nose, fit.sigma, fit.correlation))
    .filter((shape) => shape !== null);
  return {
    ...evidence,
    noise: deviationNoise(nominal, fit, moved),
    rms: Math.sqrt(off.reduce((sum, d) => sum + d * d, 0) / count),
    max: off.reduce((most, d) => Math.max(most, Math.abs(d)), 0),
    gaps: dataGaps(outline, feet),
    setAside: Array.from(weights.keys()).filter((i) => weights[i] === 0),
    converged: fit.converged,
    iterations: fit.rounds,
    shapes: shapes.map((shape) => ({ ...shape, from: shape.joints[0], to: shape.joints[1] })),
    basis: 'nominal',
  };
}

/** Feet near the given starts, else near the last point's; at corners, where that would not get round, the nearest ones. */
function feetOf(nominal: Outline, points: Float64Array, sigma: number, starts: Float64Array | null) {
  if (starts || nominal.corners.length === 0) return orderedFeet(nominal, points, FOOT_JUMP * sigma, starts);
  const parameters = new Float64Array(points.length >> 1);
  const distances = new Float64Array(points.length >> 1);
  outlineFeet(nominal, points, null, parameters, distances);
  return { parameters, distances };
}

/** False when residuals are wider than noise because the deviation does not follow the points. */
function explains({ sigma: found, correlation }: DeviationFit, sigma: number): boolean {
  return found < WIDE * sigma || correlation < ALIKE;
}
