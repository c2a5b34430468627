import { CamberwrightError } from '../error.ts';
import type { FittedOutline, Outline } from '../model/outline.ts';
import { findCorners } from './corners.ts';
import { dataGaps } from './data-gaps.ts';
import { edgeShape } from './edge-shape.ts';
import { interpolatedFit, noiseTable, residualSigma } from './fit-evidence.ts';
import { givenGuide, guideOutline } from './guide-outline.ts';
import { chordParameters } from './interpolate-outline.ts';
import { orderedFeet } from './ordered-feet.ts';
import { outlineArc } from './outline-arc.ts';
import { outlinePointNoise } from './point-noise-outline.ts';
import { type FitState, outlineBends, refineFit, startFit } from './refine-fit.ts';
import { findSectionEdges } from './section-edges.ts';

export interface FitOptions {
  /** Indices of corner points; absent: found in the points. */
  corners?: readonly number[];
  /** Outline of much the same shape and place, such as the nominal's, to take first parameters and knots from. */
  guide?: Outline;
  /** Standard deviation of a point along the normal (mm); absent: found in the points. */
  sigma?: number;
  /** Largest turning angle of a span (rad). */
  turn: number;
  /** Down-weight stray points. */
  robust: boolean;
  /** Largest share of points that may be set aside. */
  setAsideCap: number;
  /** Most rounds of solving and reprojecting. */
  maxIterations: number;
}

export const FIT_DEFAULTS: Omit<FitOptions, 'corners' | 'guide' | 'sigma'> = {
  turn: (15 * Math.PI) / 180,
  robust: true,
  setAsideCap: 0.02,
  maxIterations: 16,
};

/** Noise below this share of the perimeter is taken for none: the outline then passes through every point. */
const NOISE_FREE = 1e-8;
/** Fewer points than this are a drawing's table: too few to smooth, and noise below this share is its rounding. */
const SPARSE = 600;
const SPARSE_NOISE = 3e-6;
/** Noise widths by which the distance from a guide may grow from one point to the next. */
const FOOT_JUMP = 8;
/** Difference of the logarithms of two estimates of the noise from which the fit is made anew. */
const SURPRISE = 0.15;

/**
 * Returns the closed cubic B-spline fitted to ordered points by least squares of normal distances, with evidence.
 * Knots follow the turning angle; smoothing of |C'''|² follows the sixth power of the local feature size; its strength
 * is the one of least expected error; feet are found anew each round (Hoschek, CAGD 5, 1988; Wang, Pottmann & Liu,
 * ACM TOG 25, 2006). Points free of noise are interpolated.
 * @param given x0, y0, x1, … (mm) in order, either way round, the first not repeated; an open end is closed straight
 * @throws `shape/outline` when there are fewer than 8 points
 */
export function fitOutline(given: Float64Array, options: Partial<FitOptions> = {}): FittedOutline {
  const count = given.length >> 1;
  if (count < 8) {
    throw new CamberwrightError('shape/outline', `A fit needs at least 8 points; ${count} given.`, {
      remedy: 'Give more points of the section.',
    });
  }
  const settings = { ...FIT_DEFAULTS, ...options };
  const { points, corners: known } = counterClockwise(given, options.corners);
  const sigma = options.sigma ?? outlinePointNoise(points);
  const corners = known ?? findCorners(points, { sigma });
  const { period } = chordParameters(points);
  if (sigma <= NOISE_FREE * period || (count < SPARSE && sigma <= SPARSE_NOISE * period))
    return interpolatedFit(points, corners, sigma);
  const usable = usableGuide(options.guide, corners);
  const guide = (usable && givenGuide(usable, sigma)) ?? guideOutline(points, corners, sigma);
  const feet = orderedFeet(guide.outline, points, FOOT_JUMP * sigma, guide.starts);
  const first = refineFit(startFit(guide, points, feet.parameters, sigma), settings);
  const state = withShapes(first, settings, options.sigma);
  let sum = 0;
  let max = 0;
  for (const d of state.distances) {
    sum += d * d;
    max = Math.max(max, Math.abs(d));
  }
  const setAside: number[] = [];
  state.weights.forEach((weight, i) => {
    if (weight === 0) setAside.push(i);
  });
  return {
    outline: state.outline,
    noise: noiseTable(state),
    rms: Math.sqrt(sum / count),
    max,
    points,
    parameters: state.parameters,
    weights: state.weights,
    gaps: dataGaps(state.outline, state.parameters),
    setAside,
    converged: state.converged,
    iterations: state.iterations,
    shapes: state.placed.map(({ shape, from, to }) => ({ ...shape, from, to, joints: [from, to] })),
  };
}

/**
 * The fit again with the shapes of its edges and the noise of its residuals. Where the noise found in the points was far
 * off, the first fit is no good judge of the edges: they are looked at once more.
 * @param known standard deviation of a point where it is given (mm)
 */
function withShapes(first: FitState, settings: typeof FIT_DEFAULTS, known: number | undefined): FitState {
  let state = first;
  for (let turn = 0; turn < 2; turn++) {
    const edges = findSectionEdges(state.outline);
    const sigma = known ?? residualSigma(state);
    const surprise = Math.abs(Math.log(sigma / state.sigma)) > SURPRISE;
    const shapes = [edges.leading, edges.trailing]
      .map((nose) => edgeShape(state, nose, sigma, state.correlation))
      .filter((shape) => shape !== null);
    if (shapes.length === 0 && !surprise) return state;
    const guide = { outline: state.outline, bends: outlineBends(outlineArc(state.outline)), starts: null };
    const again = startFit(guide, state.points, state.parameters, sigma);
    again.weights.set(state.weights);
    const next = refineFit(again, settings, shapes);
    if (!next.system) return state;
    state = next;
    if (!surprise) break;
  }
  return state;
}

/** A guide serves only when it has as many corners as the points do. */
function usableGuide(guide: Outline | undefined, corners: readonly number[]): Outline | undefined {
  return guide && guide.degree === 3 && guide.corners.length === corners.length ? guide : undefined;
}

function counterClockwise(
  given: Float64Array,
  corners: readonly number[] | undefined,
): { points: Float64Array; corners: number[] | undefined } {
  const count = given.length >> 1;
  let area = 0;
  for (let i = 0, j = count - 1; i < count; j = i++) {
    area += given[2 * j] * given[2 * i + 1] - given[2 * i] * given[2 * j + 1];
  }
  const rising = (list: number[]) => list.sort((a, b) => a - b);
  if (area >= 0) return { points: given.slice(), corners: corners && rising([...corners]) };
  const points = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    points[2 * i] = given[2 * (count - 1 - i)];
    points[2 * i + 1] = given[2 * (count - 1 - i) + 1];
  }
  return { points, corners: corners && rising(corners.map((corner) => count - 1 - corner)) };
}
