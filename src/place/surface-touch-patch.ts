import { leastSquares } from '../math/least-squares.ts';
import { MAD_TO_SIGMA, median } from '../math/median.ts';

/** Points in the frame of a target's line: across (x, y) and along it (s), all in mm. */
export interface LinePoints {
  x: Float64Array;
  y: Float64Array;
  s: Float64Array;
}

/** A place of the line's frame (mm). */
export interface LinePlace {
  x: number;
  y: number;
  s: number;
}

/** A quadric through points about a place of the line's frame: s = a + b·ξ + c·η + d·ξ² + e·ξη + f·η². */
export interface Patch {
  /** a … f, with ξ and η from the place (mm). */
  form: Float64Array;
  /** Standard uncertainty of a from the scatter of the points (mm). */
  u: number;
  /** How far the middle of the points lies from the place, share of the radius. */
  aside: number;
}

/** Tukey's constant and how often the weights are renewed. */
const TUKEY = 4.685;
const ROUNDS = 4;

/** Square of the distance of point `k` from a place (mm²). */
export function squareFrom({ x, y, s }: LinePoints, k: number, place: LinePlace): number {
  return (x[k] - place.x) ** 2 + (y[k] - place.y) ** 2 + (s[k] - place.s) ** 2;
}

/**
 * Returns the quadric of least weighted squares through points within a radius about a place, or null when they hold
 * none. Weights fade to nothing at the radius, so that the answer moves smoothly with the place, and away from the
 * quadric (Tukey's, scale from the median), so that stray points do not count.
 */
export function fitPatch(points: LinePoints, place: LinePlace, radius: number): Patch | null {
  const { x, y } = place;
  const own: number[] = [];
  const fade: number[] = [];
  for (let k = 0; k < points.s.length; k++) {
    const share = squareFrom(points, k, place) / (radius * radius);
    if (share >= 1) continue;
    own.push(k);
    fade.push((1 - share) ** 2);
  }
  const count = own.length;
  if (count <= 6) return null;
  const weights = Float64Array.from(fade);
  const residual = new Float64Array(count);
  let form = new Float64Array(6);
  let covariance = new Float64Array(36);
  const scale = new Float64Array(6).fill(radius);
  for (let round = 0; round <= ROUNDS; round++) {
    const fit = leastSquares(
      form,
      count,
      (p, r, derivative) => {
        for (let k = 0; k < count; k++) {
          const [u, v] = [(points.x[own[k]] - x) / radius, (points.y[own[k]] - y) / radius];
          const at = 6 * k;
          derivative[at] = 1;
          derivative[at + 1] = u;
          derivative[at + 2] = v;
          derivative[at + 3] = u * u;
          derivative[at + 4] = u * v;
          derivative[at + 5] = v * v;
          r[k] = -points.s[own[k]];
          for (let j = 0; j < 6; j++) r[k] += p[j] * derivative[at + j];
          residual[k] = r[k];
        }
        return true;
      },
      weights,
      scale,
    );
    if (fit === null) return null;
    form = Float64Array.from(fit.parameters);
    covariance = Float64Array.from(fit.covariance);
    const sigma = MAD_TO_SIGMA * median(residual.map(Math.abs));
    if (round === ROUNDS || !(sigma > 0)) break;
    for (let k = 0; k < count; k++) weights[k] = fade[k] * Math.max(0, 1 - (residual[k] / (TUKEY * sigma)) ** 2) ** 2;
  }
  let [sum, squares, ofResiduals, asideX, asideY] = [0, 0, 0, 0, 0];
  for (let k = 0; k < count; k++) {
    sum += weights[k];
    squares += weights[k] * weights[k];
    ofResiduals += weights[k] * residual[k] * residual[k];
    asideX += weights[k] * (points.x[own[k]] - x);
    asideY += weights[k] * (points.y[own[k]] - y);
  }
  const freedom = 1 - (6 * squares) / (sum * sum);
  if (!(freedom > 0)) return null;
  const powers = [0, 1, 1, 2, 2, 2];
  return {
    form: form.map((value, j) => value / radius ** powers[j]),
    u: Math.sqrt((ofResiduals / (sum * freedom)) * covariance[0]),
    aside: Math.hypot(asideX, asideY) / (sum * radius),
  };
}

/**
 * Returns where a ball guided on the line (x = y = 0) touches a patch about a place, by Newton's method on: contact +
 * radius × normal lies on the line; null when it finds none. A radius of 0 gives the patch on the line itself.
 */
export function ballOnPatch({ form }: Patch, { x, y }: LinePlace, radius: number): LinePlace | null {
  const [a, b, c, d, e, f] = form;
  let [px, py] = [x, y];
  for (let step = 0; step < 50; step++) {
    const [u, v] = [px - x, py - y];
    const [sx, sy] = [b + 2 * d * u + e * v, c + e * u + 2 * f * v];
    const w = Math.sqrt(1 + sx * sx + sy * sy);
    const [fx, fy] = [px - (radius * sx) / w, py - (radius * sy) / w];
    if (Math.hypot(fx, fy) < 1e-13 * (1 + radius))
      return { x: px, y: py, s: a + b * u + c * v + d * u * u + e * u * v + f * v * v };
    const [gx, gy] = [radius * (1 + sy * sy), radius * (1 + sx * sx)].map((value) => value / w ** 3);
    const cross = (radius * sx * sy) / w ** 3;
    const jxx = 1 - gx * 2 * d + cross * e;
    const jxy = -gx * e + cross * 2 * f;
    const jyx = -gy * e + cross * 2 * d;
    const jyy = 1 - gy * 2 * f + cross * e;
    const det = jxx * jyy - jxy * jyx;
    px -= (jyy * fx - jxy * fy) / det;
    py -= (jxx * fy - jyx * fx) / det;
    if (!Number.isFinite(px + py)) return null;
  }
  return null;
}
