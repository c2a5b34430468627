import { outlineFoot } from '../fit/outline-foot.ts';
import { leastSquares } from '../math/least-squares.ts';
import { planeLength } from '../math/plane-length.ts';
import type { Outline, SectionEdges } from '../model/outline.ts';
import { contourAt, contourOf, contourPoint } from './contour.ts';
import { type WeightedPoints, weighPoints } from './weigh-points.ts';

export interface SectionFitOptions {
  /** Leave out points near the edges of the nominal. */
  excludeEdges: boolean;
  /** Distance (mm) from the edge points within which points are left out; absent: 5 % of the outline's extent. */
  edgeSetback?: number;
}

const SECTION_FIT_DEFAULTS: SectionFitOptions = { excludeEdges: false };

/** Rigid motion that carries a nominal section onto a measured one. */
export interface SectionFit {
  /** Rotation about the pivot, counter-clockwise seen from +Z (rad). */
  twist: number;
  /** Displacement of the pivot (mm). */
  dx: number;
  dy: number;
  /** Standard uncertainties from the residuals and the normal matrix; null for an outline without points. */
  uTwist: number | null;
  uDx: number | null;
  uDy: number | null;
  /** Covariance of (dx, dy, twist), row-major 3 × 3; null for an outline without points. */
  covariance: Float64Array | null;
  /** Arc-length weighted root mean square distance left (mm). */
  rms: number;
  count: number;
  pivot: [number, number];
  converged: boolean;
  iterations: number;
}

const place = contourPoint();
/** Most rounds with feet looked for afresh. */
const MOST_ROUNDS = 6;

/**
 * Returns the rigid motion of least weighted sum of squared distances from the measured points to the moved nominal, or
 * null when it cannot be found. Gauss-Newton on signed distances, feet followed from step to step and
 * looked for afresh once it has settled, until nothing moves; weights are arc lengths.
 * @param nominal nominal outline
 * @param edges its edge points, needed to leave edges out
 * @param measuredShape points x0, y0, … (mm) in any order, or an outline
 * @param pivot point of the nominal the displacement is stated for (mm)
 */
export function fitSection(
  nominal: Outline,
  edges: SectionEdges | null,
  measuredShape: Float64Array | Outline,
  pivot: [number, number],
  options: Partial<SectionFitOptions> = {},
): SectionFit | null {
  const settings = { ...SECTION_FIT_DEFAULTS, ...options };
  const given = measuredShape instanceof Float64Array ? weighPoints(nominal, measuredShape) : placesOf(measuredShape);
  const whole = solveMotion(nominal, given, pivot, [0, 0, 0]);
  if (!whole || !settings.excludeEdges || !edges) return whole;
  const kept = withoutEdges(nominal, edges, given, whole, settings.edgeSetback);
  return solveMotion(nominal, kept, pivot, [whole.dx, whole.dy, whole.twist]);
}

/**
 * Returns the rigid motion of least weighted sum of squared distances from weighted points to the moved nominal, from a
 * start (dx, dy and, where it may turn, twist); null when it cannot be found.
 */
export function solveMotion(
  nominal: Outline,
  given: WeightedPoints,
  pivot: [number, number],
  start: number[],
): SectionFit | null {
  const { points, weights } = given;
  const n = points.length >> 1;
  const m = start.length;
  if (n < 4) return null;
  const guess = given.feet?.slice() ?? new Float64Array(n).fill(Number.NaN);
  const distances = (p: Float64Array, residual: Float64Array, derivative: Float64Array): boolean => {
    const c = m > 2 ? Math.cos(p[2]) : 1;
    const s = m > 2 ? Math.sin(p[2]) : 0;
    for (let i = 0; i < n; i++) {
      const gx = points[2 * i] - pivot[0] - p[0];
      const gy = points[2 * i + 1] - pivot[1] - p[1];
      const x = c * gx + s * gy;
      const y = c * gy - s * gx;
      const near = Number.isNaN(guess[i]) ? undefined : guess[i];
      const foot = outlineFoot(nominal, x + pivot[0], y + pivot[1], near);
      guess[i] = foot.t;
      contourAt(nominal, foot.t, place);
      let nx = place.ty;
      let ny = -place.tx;
      if (foot.atCorner && foot.distance !== 0) {
        nx = (x + pivot[0] - foot.x) / foot.distance;
        ny = (y + pivot[1] - foot.y) / foot.distance;
      }
      residual[i] = foot.distance;
      derivative[m * i] = -(c * nx - s * ny);
      derivative[m * i + 1] = -(s * nx + c * ny);
      if (m > 2) derivative[m * i + 2] = y * nx - x * ny;
    }
    return true;
  };
  const size = nominal.period / 4;
  const scale = [size, size, 1].slice(0, m);
  let fit = leastSquares(start, n, distances, weights, scale);
  for (let round = 0; round < MOST_ROUNDS && fit; round++) {
    const before = fit.parameters;
    guess.fill(Number.NaN);
    fit = leastSquares(before, n, distances, weights, scale);
    if (fit && Math.hypot(...fit.parameters.map((v, k) => (v - before[k]) / scale[k])) < 1e-11) break;
  }
  if (!fit) return null;
  let sum = 0;
  for (let i = 0; i < n; i++) sum += weights[i];
  const count = given.counts.reduce((total, c) => total + c, 0);
  const rms = Math.hypot(Math.sqrt(fit.cost / sum), given.within);
  const spread = rms * Math.sqrt(count / Math.max(1, count - m)) * Math.sqrt(n / count);
  const [dx, dy, twist = 0] = fit.parameters;
  const { converged, iterations } = fit;
  const full = given.independent ? new Float64Array(9) : null;
  if (full)
    for (let a = 0; a < m; a++)
      for (let b = 0; b < m; b++) full[3 * a + b] = spread * spread * fit.covariance[m * a + b];
  const u = (k: number) => (full ? Math.sqrt(full[4 * k]) : null);
  return {
    twist,
    dx,
    dy,
    uTwist: u(2),
    uDx: u(0),
    uDy: u(1),
    covariance: full,
    rms,
    count,
    pivot,
    converged,
    iterations,
  };
}

function placesOf(outline: Outline): WeightedPoints {
  const contour = contourOf(outline);
  const { count, x, y, s, perimeter } = contour;
  const points = new Float64Array(2 * count);
  const weights = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    points[2 * i] = x[i];
    points[2 * i + 1] = y[i];
    const before = i > 0 ? s[i - 1] : s[count - 1] - perimeter;
    const after = i + 1 < count ? s[i + 1] : perimeter;
    weights[i] = 0.5 * (after - before);
  }
  return { points, weights, counts: new Float64Array(count).fill(1), within: 0, independent: false };
}

function withoutEdges(
  nominal: Outline,
  edges: SectionEdges,
  given: WeightedPoints,
  fit: SectionFit,
  setback: number | undefined,
): WeightedPoints {
  const leading = contourPoint();
  const trailing = contourPoint();
  contourAt(nominal, edges.leading, leading);
  contourAt(nominal, edges.trailing, trailing);
  const limit = setback ?? 0.05 * Math.hypot(trailing.x - leading.x, trailing.y - leading.y);
  const c = Math.cos(fit.twist);
  const s = Math.sin(fit.twist);
  const kept: number[] = [];
  for (let i = 0; i < given.weights.length; i++) {
    const gx = given.points[2 * i] - fit.pivot[0] - fit.dx;
    const gy = given.points[2 * i + 1] - fit.pivot[1] - fit.dy;
    const x = c * gx + s * gy + fit.pivot[0];
    const y = c * gy - s * gx + fit.pivot[1];
    const near = Math.min(planeLength(x - leading.x, y - leading.y), planeLength(x - trailing.x, y - trailing.y));
    if (near > limit) kept.push(i);
  }
  return {
    points: Float64Array.from({ length: 2 * kept.length }, (_, k) => given.points[2 * kept[k >> 1] + (k & 1)]),
    weights: Float64Array.from(kept, (i) => given.weights[i]),
    counts: Float64Array.from(kept, (i) => given.counts[i]),
    within: given.within,
    independent: given.independent,
  };
}
