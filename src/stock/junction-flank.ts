import { solveSymmetric } from '../math/least-squares.ts';
import { distanceInside, type EdgeJunction, type NoseLine } from './edge-curve.ts';

/** Points of one flank of a measured outline (mm). */
export interface FlankSamples {
  /** x0, y0, x1, …, running away from the nose. */
  points: Float64Array;
  /** 1 where the material lies to the left of that run, −1 where to its right. */
  material: 1 | -1;
  /** Standard uncertainty of each point along the normal (mm). */
  u: Float64Array;
  /** Points with one error in common (correlated length over spacing), 1 for independent ones. */
  together?: number;
}

/** The local fit a junction is read from. */
export interface JunctionOptions {
  /** Length of the flank that the fit stands on (mm), beyond the junction. */
  window: number;
  /** Degree of the local polynomial. */
  degree?: 2 | 3;
  /** Least number of points. */
  least?: number;
}

const JUNCTION_DEFAULTS = { degree: 2, least: 8 } as const;

/** `short-window`: below ten uncertainties of the junction's place, so that direction means nothing. */
export type JunctionRefusal = 'beyond-flank' | 'few-points' | 'short-window' | 'not-converged';

/** Least window in junction uncertainties. */
const WINDOW_UNCERTAINTIES = 10;

/**
 * Returns place, tangent and curvature of a flank at a distance from the nose line, with their uncertainties, or why
 * not. A polynomial in a frame along the flank, weighted least squares over the window; all of it lies on the side away
 * from the nose, because what is nearer will be cut. The place is where the polynomial meets the set-back.
 * @param setback distance from the nose line (mm)
 * @param window length beyond the junction, at least ten times the junction's own uncertainty
 */
export function junctionOnFlank(
  flank: FlankSamples,
  line: NoseLine,
  setback: number,
  options: JunctionOptions,
): EdgeJunction | JunctionRefusal {
  const { points } = flank;
  const count = points.length >> 1;
  const depth = (i: number) => distanceInside(line, points[2 * i], points[2 * i + 1]);
  let from = 0;
  while (from < count && depth(from) < setback) from++;
  if (from === 0 || from >= count - 1) return 'beyond-flank';
  const share = (setback - depth(from - 1)) / (depth(from) - depth(from - 1));
  const originX = points[2 * from - 2] + share * (points[2 * from] - points[2 * from - 2]);
  const originY = points[2 * from - 1] + share * (points[2 * from + 1] - points[2 * from - 1]);
  let to = from;
  while (to < count && Math.hypot(points[2 * to] - originX, points[2 * to + 1] - originY) <= options.window) to++;
  const degree = options.degree ?? JUNCTION_DEFAULTS.degree;
  if (to - from < Math.max(options.least ?? JUNCTION_DEFAULTS.least, degree + 2)) return 'few-points';
  if (to === count) return 'beyond-flank';
  const reach = Math.hypot(points[2 * to - 2] - originX, points[2 * to - 1] - originY);
  const ex = (points[2 * to - 2] - originX) / reach;
  const ey = (points[2 * to - 1] - originY) / reach;
  const fit = localPolynomial(flank, from, to, originX, originY, ex, ey, reach, degree);
  if (!fit) return 'not-converged';
  const found = junctionOfFit(
    fit,
    line,
    setback,
    originX,
    originY,
    ex,
    ey,
    reach,
    flank.material,
    Math.max(1, flank.together ?? 1),
  );
  if (typeof found === 'string') return found;
  return options.window < WINDOW_UNCERTAINTIES * found.u.position ? 'short-window' : found;
}

interface LocalFit {
  /** Coefficients by power of (distance along the frame / reach), mm. */
  coefficients: Float64Array;
  covariance: Float64Array;
}

function localPolynomial(
  { points, u }: FlankSamples,
  from: number,
  to: number,
  x0: number,
  y0: number,
  ex: number,
  ey: number,
  reach: number,
  degree: number,
): LocalFit | null {
  const m = degree + 1;
  const normal = new Float64Array(m * m);
  const right = new Float64Array(m);
  const power = new Float64Array(m);
  for (let i = from; i < to; i++) {
    const dx = points[2 * i] - x0;
    const dy = points[2 * i + 1] - y0;
    const weight = 1 / (u[i] * u[i]);
    for (let a = 0; a < m; a++) power[a] = ((dx * ex + dy * ey) / reach) ** a;
    for (let a = 0; a < m; a++) {
      right[a] += weight * power[a] * (dy * ex - dx * ey);
      for (let b = 0; b < m; b++) normal[a * m + b] += weight * power[a] * power[b];
    }
  }
  const coefficients = solveSymmetric(normal, right);
  if (!coefficients) return null;
  const covariance = new Float64Array(m * m);
  for (let k = 0; k < m; k++) {
    const unit = new Float64Array(m);
    unit[k] = 1;
    const column = solveSymmetric(normal, unit);
    if (!column) return null;
    covariance.set(column, k * m);
  }
  return { coefficients, covariance };
}

function junctionOfFit(
  { coefficients: c, covariance }: LocalFit,
  line: NoseLine,
  setback: number,
  x0: number,
  y0: number,
  ex: number,
  ey: number,
  reach: number,
  material: 1 | -1,
  together: number,
): EdgeJunction | JunctionRefusal {
  const m = c.length;
  const derivative = (at: number, order: number): number => {
    let sum = 0;
    for (let k = m - 1; k >= order; k--) sum += c[k] * falling(k, order) * at ** (k - order);
    return sum / reach ** order;
  };
  let at = 0;
  for (let step = 0; ; step++) {
    const height = derivative(at, 0);
    const x = x0 + reach * at * ex - height * ey;
    const y = y0 + reach * at * ey + height * ex;
    const slope = derivative(at, 1);
    const size = Math.hypot(1, slope);
    const tx = (ex - slope * ey) / size;
    const ty = (ey + slope * ex) / size;
    const miss = setback - distanceInside(line, x, y);
    const rise = (tx * line.inX + ty * line.inY) * size * reach;
    if (Math.abs(miss) <= 1e-13 * (reach + setback)) {
      const left = derivative(at, 2) / size ** 3;
      const row = (order: number, scale: number) => {
        const rates = new Float64Array(m);
        for (let k = order; k < m; k++) rates[k] = (falling(k, order) * at ** (k - order)) / reach ** order / scale;
        return Math.sqrt(together * quadratic(covariance, rates));
      };
      return {
        x,
        y,
        tangentX: -tx,
        tangentY: -ty,
        curvature: material * left,
        setback,
        u: { position: row(0, size), angle: row(1, size * size), curvature: row(2, size ** 3) },
      };
    }
    if (step > 30 || !(rise > 0)) return 'not-converged';
    at += miss / rise;
  }
}

function falling(k: number, order: number): number {
  let product = 1;
  for (let i = 0; i < order; i++) product *= k - i;
  return product;
}

function quadratic(matrix: Float64Array, row: Float64Array): number {
  const m = row.length;
  let sum = 0;
  for (let a = 0; a < m; a++) for (let b = 0; b < m; b++) sum += row[a] * matrix[a * m + b] * row[b];
  return sum;
}
