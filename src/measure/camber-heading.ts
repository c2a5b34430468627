import { leastSquares } from '../math/least-squares.ts';

/** Smooth direction of the line of centres. Angles in radians from +X. */
export interface CamberHeading {
  leading: number;
  trailing: number;
  /** Standard uncertainties, and that of the difference; null without noise. */
  uLeading: number | null;
  uTrailing: number | null;
  uDifference: number | null;
  /** Degree of the likeliest polynomial of direction over length; 0 straight, 1 circular arc. */
  degree: number;
  /** Root mean square distance of the centres from the smooth line (mm). */
  rms: number;
}

export interface HeadingData {
  /** Centres in order (mm) and their place along the line (mm). */
  x: Float64Array;
  y: Float64Array;
  along: Float64Array;
  /** Standard uncertainty of each centre across the line (mm), any common scale when the outline is exact. */
  u: Float64Array;
  /** Number of centres whose errors are independent. */
  independent: number;
  noisy: boolean;
  /** True when the outline is a nominal moved by a smooth deviation: chance bends are gone from it already. */
  smoothed?: boolean;
}

const HIGHEST_DEGREE = 9;
const HIGHEST_EXACT_DEGREE = 16;
/** What a further degree of a noisy line costs in squares over variance: it must explain more than two sigma. */
const WORTH = 5;
/** The same where chance bends are gone already (Akaike's criterion). */
const SMOOTHED_WORTH = 2;
/** Degrees tried after the best one before the search ends. */
const PATIENCE = 3;
/** Misfit (share of the length) at which an exact line is taken as met. */
const EXACT = 1e-9;
const GAUSS = [0.1127016653792583, 0.5, 0.8872983346207417];
const GAUSS_WEIGHT = [5 / 18, 8 / 18, 5 / 18];

/**
 * Returns the direction of the line of centres at both ends. The direction is a polynomial of the length along the line
 * (Legendre); least squares on the distances across the line. On an exact line its degree has the least Bayesian
 * information criterion; on a noisy one the degrees are averaged by their likelihood, so that the doubt between them is
 * part of the uncertainty (Buckland, Burnham & Augustin).
 */
export function camberHeading(data: HeadingData): CamberHeading | null {
  const fits: { heading: CamberHeading; criterion: number }[] = [];
  let best = 0;
  let coefficients = startDirection(data);
  const n = data.x.length;
  const { independent, noisy, smoothed } = data;
  const known = smoothed ? n : Math.floor(independent);
  const highest = Math.min(noisy ? HIGHEST_DEGREE : HIGHEST_EXACT_DEGREE, n - 3, known - 2);
  const worth = smoothed ? SMOOTHED_WORTH : WORTH;
  const floor = EXACT * data.along[n - 1];
  for (let degree = 0; degree <= highest; degree++) {
    const fit = fitDirection(data, coefficients, degree);
    if (!fit) break;
    coefficients = fit.coefficients;
    const misfit = Math.max(fit.heading.rms, floor);
    const criterion = noisy
      ? (fit.cost * independent) / n + worth * degree
      : 2 * independent * Math.log(misfit) + Math.log(independent) * degree;
    fits.push({ heading: fit.heading, criterion });
    if (criterion < fits[best].criterion) best = degree;
    if (misfit === floor || degree - best >= PATIENCE) break;
  }
  if (fits.length === 0) return null;
  return noisy ? averaged(fits, best) : fits[best].heading;
}

/** Mean of the directions weighted by likelihood; the spread between degrees adds to each one's variance. */
function averaged(fits: { heading: CamberHeading; criterion: number }[], best: number): CamberHeading {
  const likelihood = fits.map((fit) => Math.exp(0.5 * (fits[best].criterion - fit.criterion)));
  const total = likelihood.reduce((sum, w) => sum + w, 0);
  const mean = (of: (heading: CamberHeading) => number): number =>
    fits.reduce((sum, fit, k) => sum + likelihood[k] * of(fit.heading), 0) / total;
  const spread = (middle: number, of: (h: CamberHeading) => number, u: (h: CamberHeading) => number | null): number =>
    Math.sqrt(mean((h) => (u(h) ?? 0) ** 2 + (of(h) - middle) ** 2));
  const leading = mean((h) => h.leading);
  const trailing = mean((h) => h.trailing);
  const turn = (h: CamberHeading) => h.leading - h.trailing;
  return {
    ...fits[best].heading,
    leading,
    trailing,
    uLeading: spread(
      leading,
      (h) => h.leading,
      (h) => h.uLeading,
    ),
    uTrailing: spread(
      trailing,
      (h) => h.trailing,
      (h) => h.uTrailing,
    ),
    uDifference: spread(leading - trailing, turn, (h) => h.uDifference),
  };
}

function startDirection(data: HeadingData): number[] {
  const n = data.x.length;
  return [0, Math.atan2(data.y[n - 1] - data.y[0], data.x[n - 1] - data.x[0])];
}

/** Fits offset and direction coefficients of one degree; the offset stands first. */
function fitDirection(data: HeadingData, start: number[], degree: number) {
  const { x, y, along, u } = data;
  const n = x.length;
  const length = along[n - 1];
  const m = degree + 2;
  const legendre = new Float64Array(degree + 1);
  const reachX = new Float64Array(degree + 1);
  const reachY = new Float64Array(degree + 1);
  const mean = start[1];
  const begin = Float64Array.from({ length: m }, (_, k) => start[k] ?? 0);
  let rms = 0;
  const residuals = (p: Float64Array, residual: Float64Array, derivative: Float64Array): boolean => {
    let cx = x[0] - p[0] * Math.sin(mean);
    let cy = y[0] + p[0] * Math.cos(mean);
    reachX.fill(0);
    reachY.fill(0);
    let squares = 0;
    let weight = 0;
    for (let i = 0; i < n; i++) {
      if (i > 0) {
        const gap = along[i] - along[i - 1];
        for (let g = 0; g < 3; g++) {
          const angle = directionAt(p, along[i - 1] + GAUSS[g] * gap, length, legendre);
          const w = GAUSS_WEIGHT[g] * gap;
          const c = Math.cos(angle) * w;
          const s = Math.sin(angle) * w;
          cx += c;
          cy += s;
          for (let k = 0; k <= degree; k++) {
            reachX[k] -= legendre[k] * s;
            reachY[k] += legendre[k] * c;
          }
        }
      }
      const angle = directionAt(p, along[i], length, legendre);
      const nx = -Math.sin(angle);
      const ny = Math.cos(angle);
      const e = (cx - x[i]) * nx + (cy - y[i]) * ny;
      const forward = (cx - x[i]) * -ny + (cy - y[i]) * nx;
      residual[i] = e / u[i];
      derivative[i * m] = (-Math.sin(mean) * nx + Math.cos(mean) * ny) / u[i];
      for (let k = 0; k <= degree; k++)
        derivative[i * m + k + 1] = (reachX[k] * nx + reachY[k] * ny + forward * legendre[k]) / u[i];
      squares += (e * e) / (u[i] * u[i]);
      weight += 1 / (u[i] * u[i]);
    }
    rms = Math.sqrt(squares / weight);
    return true;
  };
  const scale = new Float64Array(m).fill(1);
  scale[0] = length;
  const fit = leastSquares(begin, n, residuals, undefined, scale);
  if (!fit) return null;
  const { parameters, covariance } = fit;
  const leading = directionAt(parameters, 0, length, legendre);
  const atLeading = Float64Array.from(legendre);
  const trailing = directionAt(parameters, length, length, legendre);
  const atTrailing = Float64Array.from(legendre);
  const inflate = Math.sqrt(Math.max(1, n / data.independent));
  const spread = (row: (k: number) => number): number | null => {
    if (!data.noisy) return null;
    let sum = 0;
    for (let a = 0; a <= degree; a++)
      for (let b = 0; b <= degree; b++) sum += row(a) * row(b) * covariance[(a + 1) * m + b + 1];
    return Math.sqrt(Math.max(0, sum)) * inflate;
  };
  const heading: CamberHeading = {
    leading,
    trailing,
    uLeading: spread((k) => atLeading[k]),
    uTrailing: spread((k) => atTrailing[k]),
    uDifference: spread((k) => atTrailing[k] - atLeading[k]),
    degree,
    rms,
  };
  return { heading, coefficients: [...parameters], cost: fit.cost };
}

/** Direction at a length along the line; leaves the Legendre polynomials there in `legendre`. */
function directionAt(p: Float64Array, at: number, length: number, legendre: Float64Array): number {
  const z = (2 * at) / length - 1;
  let angle = 0;
  for (let k = 0; k < legendre.length; k++) {
    legendre[k] = k === 0 ? 1 : k === 1 ? z : ((2 * k - 1) * z * legendre[k - 1] - (k - 1) * legendre[k - 2]) / k;
    angle += p[k + 1] * legendre[k];
  }
  return angle;
}
