import { type CyclicMatrix, inverseCyclic } from '../math/banded-cyclic.ts';
import type { FittedOutline, Outline, OutlineNoise } from '../model/outline.ts';
import { dataGaps } from './data-gaps.ts';
import { chordParameters, interpolateOutline } from './interpolate-outline.ts';
import { evaluatePiece, outlinePieces } from './outline-pieces.ts';
import type { FitState } from './refine-fit.ts';
import { effectiveParameters, normalVariance } from './spline-system.ts';

/**
 * Returns the standard uncertainty of the outline along its normal, from the posterior covariance of the smoothed fit,
 * sigma² (B'WB + smoothing)⁻¹, which allows for smoothing bias (Wahba, JRSS B 45, 1983); correlated residuals widen it
 * by the loss of independent points, (1 + r) / (1 − r).
 */
export function noiseTable(state: FitState): OutlineNoise {
  const { outline, points, system, factor, correlation } = state;
  const inverse = factor ? inverseCyclic(factor) : null;
  const sigma = sigmaWith(state, inverse);
  const lag = Math.min(0.9, correlation);
  const spread = sigma * Math.sqrt((1 + lag) / (1 - lag));
  const { at, normals } = tablePlaces(outline);
  const u = new Float64Array(at.length);
  if (system && inverse) {
    for (let i = 0; i < at.length; i++) {
      u[i] = spread * Math.sqrt(normalVariance(system.closed, inverse, at[i], normals[2 * i], normals[2 * i + 1]));
    }
  }
  return { sigma, points: points.length >> 1, at, u };
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

/** Two places a span, with the unit normals there. */
function tablePlaces(outline: Outline): { at: Float64Array; normals: Float64Array } {
  const pieces = outlinePieces(outline);
  const spans = pieces.breaks.length - 1;
  const at = new Float64Array(2 * spans);
  const normals = new Float64Array(4 * spans);
  const out = new Float64Array(8);
  for (let i = 0; i < 2 * spans; i++) {
    const span = i >> 1;
    const h = (i & 1) * 0.5 * (pieces.breaks[span + 1] - pieces.breaks[span]);
    at[i] = pieces.breaks[span] + h;
    evaluatePiece(pieces, span, h, out);
    const speed = Math.hypot(out[2], out[3]);
    normals[2 * i] = out[3] / speed;
    normals[2 * i + 1] = -out[2] / speed;
  }
  return { at, normals };
}

/** Returns the outline through every point, for points free of noise. */
export function interpolatedFit(points: Float64Array, corners: readonly number[], sigma: number): FittedOutline {
  const count = points.length >> 1;
  const outline = interpolateOutline(points, { corners });
  const parameters = chordParameters(points).at;
  return {
    outline,
    noise: { sigma, points: count, at: parameters.slice(), u: new Float64Array(count).fill(sigma) },
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
