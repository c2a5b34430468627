import { fitCircle } from '../math/circle-fit.ts';
import { conicDistance, fitFreeConic } from '../math/ellipse-fit.ts';
import { lowerBound } from '../math/lower-bound.ts';
import type { EdgeShape } from '../model/outline.ts';
import { jointAt } from './edge-joints.ts';
import { type EdgePlaces, type EdgePoints, edgePlaces } from './edge-places.ts';
import { inflation } from './noise-correlation.ts';

/** Half angles of normal direction (rad) from the widest of which that a shape explains it is grown; places it needs. */
const STARTS = [80, 70, 60, 50, 40, 30].map((angle) => (angle * Math.PI) / 180);
const LEAST_PLACES = 12;
/** An arc turns by this much (rad) at least; less is a flat end. */
const LEAST_TURN = (45 * Math.PI) / 180;
/** Share of the arc added to it at most before the shape is fitted anew. */
const GROWTH = 0.2;
/** Standard deviations at which the mean of the next places ends the arc, and the run lengths it is tested over. */
const BEYOND = 3.8;
const RUNS = [2, 3, 4, 6, 8, 12, 16, 24, 32];
/** Places next to the end of the arc that are given up: what ended it may have begun a little earlier. */
const GIVEN_UP = 0.02;
/** A shape may misfit by as much as noise does once in some thousand times. */
const UNUSUAL = 3.5;
/**
 * Their squares alone may be larger by so many standard deviations: a smooth misfit shows in the products of neighbours
 * first, and points of an edge may be noisier than those of the flanks.
 */
const LOUD = 7;
/** A conic must explain this much more than a circle (in squares over variance; it has two parameters more). */
const WORTH = 16;
/** A conic whose axis is known no better than this (rad) is too nearly round, or stands on too few points, to be one. */
const LOOSE = 0.03;
/** Widest angle (rad) between a conic's axis and a normal: at the ends of an ellipse's short axis. */
const WIDEST = (89 * Math.PI) / 180;

/**
 * Returns the circle or the conic through an edge, over the longest arc about the nose that it explains within the
 * noise, or null when neither does. From a part of the edge that the shape explains it grows while the means of the next places,
 * over runs of many lengths, agree with the shape within its own and their noise; a free conic is taken only where a
 * circle does much worse. Equal weight a point: the efficient fit for points of equal noise.
 * @param points measured points with their feet
 * @param nose parameter of the edge point
 * @param sigma standard deviation of a point along the normal (mm)
 * @param correlation of the errors of neighbouring points
 */
export function edgeShape(points: EdgePoints, nose: number, sigma: number, correlation = 0): EdgeShape | null {
  const means = edgePlaces(points, nose);
  if (!means) return null;
  const places: Places = { ...means, correlation: correlation ** (means.weight[0] ?? 1) };
  const circle = grow(places, sigma, circleOver);
  const found = grow(places, sigma, conicOver);
  const conic = found && found.shape.covariance[12] * sigma * sigma < LOOSE * LOOSE ? found : null;
  const chosen = !circle || !conic ? (circle ?? conic) : better(places, sigma, circle, conic);
  return chosen && shapeOver(places, chosen.shape, sigma, chosen.low, chosen.high);
}

/** Places whose neighbours' errors go together by a correlation. */
interface Places extends EdgePlaces {
  correlation: number;
}

/** A shape with its first and last place. */
interface Grown {
  shape: ShapeFit;
  low: number;
  high: number;
}

/** The conic where it explains its arc much better than a circle over the same arc, else a circle over the longer arc. */
function better(places: Places, sigma: number, circle: Grown, conic: Grown): Grown {
  if (conic.high - conic.low <= circle.high - circle.low) {
    const other = conicOver(places, circle.low, circle.high);
    const gain = other ? misfit(places, circle.shape, sigma, circle) - misfit(places, other, sigma, circle) : 0;
    return gain > WORTH * inflation(places.correlation) ? conic : circle;
  }
  const round = circleOver(places, conic.low, conic.high);
  if (!round || !isExplained(places, round, sigma, conic.low, conic.high)) return conic;
  const gain = misfit(places, round, sigma, conic) - misfit(places, conic.shape, sigma, conic);
  return gain > WORTH * inflation(places.correlation) ? conic : { ...conic, shape: round };
}

/** Squares over variance of the residuals of a shape over an arc. */
function misfit(places: Places, shape: ShapeFit, sigma: number, { low, high }: Grown): number {
  let sum = 0;
  for (let k = low; k <= high; k++) {
    const d = residualAt(places, shape, k);
    if (d !== null) sum += (places.weight[k] * d * d) / (sigma * sigma);
  }
  return sum;
}

type ShapeFit = Omit<EdgeShape, 'from' | 'to' | 'angleFrom' | 'angleTo' | 'joints' | 'jointsU' | 'count'>;
type ShapeOver = (places: Places, low: number, high: number) => ShapeFit | null;

/** Widest start that the shape explains, then both ends outward until neither moves any more. */
function grow(places: Places, sigma: number, shapeIn: ShapeOver): Grown | null {
  const last = places.angle.length - 1;
  for (const start of STARTS) {
    let [low, high] = within(places, start);
    if (high - low + 1 < LEAST_PLACES || places.angle[high] - places.angle[low] < LEAST_TURN) continue;
    let shape = shapeIn(places, low, high);
    if (!shape || !isExplained(places, shape, sigma, low, high)) continue;
    for (;;) {
      const most = Math.max(2, Math.ceil(GROWTH * (high - low + 1)));
      const down = agreeing(places, shape, sigma, low, -1, Math.min(most, low));
      const up = agreeing(places, shape, sigma, high, 1, Math.min(most, last - high));
      const next: ShapeFit | null = down + up > 0 ? shapeIn(places, low - down, high + up) : null;
      if (!next) break;
      shape = next;
      low -= down;
      high += up;
    }
    const spare = Math.ceil(GIVEN_UP * (high - low + 1));
    const final = shapeIn(places, low + spare, high - spare);
    if (final && isExplained(places, final, sigma, low + spare, high - spare))
      return { shape: final, low: low + spare, high: high - spare };
  }
  return null;
}

/** First and last place whose normal lies within an angle of the nose's. */
function within({ angle, middle }: EdgePlaces, half: number): [number, number] {
  let low = middle;
  let high = middle;
  while (low > 0 && angle[low - 1] > -half) low--;
  while (high < angle.length - 1 && angle[high + 1] < half) high++;
  return [low, high];
}

function shapeOver(places: Places, shape: ShapeFit, sigma: number, low: number, high: number): EdgeShape {
  const { t, angle, weight } = places;
  const turn = Math.atan2(shape.outY, shape.outX) - places.direction;
  const shift = Math.atan2(Math.sin(turn), Math.cos(turn));
  const whole = sigma * Math.sqrt(inflation(places.correlation));
  const covariance = shape.covariance.map((v) => v * whole * whole);
  let count = 0;
  for (let k = low; k <= high; k++) count += weight[k];
  const ends = { from: t[low], to: t[high], angleFrom: angle[low] - shift, angleTo: angle[high] - shift };
  const joint = (first: number, end: number, way: 1 | -1): { at: number; u: number } => {
    const found = jointAt(places, shape, first, end, way, whole);
    return found === null ? { at: t[end], u: 0 } : { at: parameterAt(places, found.at), u: found.u };
  };
  const [before, after] = [joint(high, low, -1), joint(low, high, 1)];
  return { ...shape, ...ends, joints: [before.at, after.at], jointsU: [before.u, after.u], covariance, count };
}

/** Parameter at an arc length from the nose. */
function parameterAt({ length, t }: EdgePlaces, at: number): number {
  const i = Math.max(0, Math.min(length.length - 2, lowerBound(length, at) - 1));
  return t[i] + ((at - length[i]) / (length[i + 1] - length[i])) * (t[i + 1] - t[i]);
}

/** Number of places beyond the end of the arc, one way, that agree with the shape: up to where the first run does not. */
function agreeing(places: Places, shape: ShapeFit, sigma: number, end: number, way: 1 | -1, most: number): number {
  const widened = inflation(places.correlation);
  const sums = new Float64Array(most + 1);
  const weights = new Float64Array(most + 1);
  for (let j = 1; j <= most; j++) {
    const k = end + way * j;
    const d = residualAt(places, shape, k);
    if (d === null || isBehind(places, shape, k)) return j - 1;
    sums[j] = sums[j - 1] + places.weight[k] * d;
    weights[j] = weights[j - 1] + places.weight[k];
    for (const run of RUNS) {
      if (run > j) break;
      const weight = weights[j] - weights[j - run];
      const mean = (sums[j] - sums[j - run]) / weight;
      const own = sigma * sigma * widened * predicted(places, shape, k - way * (run >> 1));
      if (mean * mean > BEYOND * BEYOND * ((sigma * sigma * widened) / weight + own)) return Math.max(0, j - run);
    }
  }
  return most;
}

/** Signed distance of a place from the shape (mm), null where it cannot be found. */
function residualAt(places: Places, shape: ShapeFit, k: number): number | null {
  const dx = places.x[k] - shape.noseX;
  const dy = places.y[k] - shape.noseY;
  const u = -dx * shape.outX - dy * shape.outY;
  const v = -dy * shape.outX + dx * shape.outY;
  if (shape.kind === 'circle') return Math.hypot(u - shape.radius, v) - shape.radius;
  return conicDistance(u, v, shape.radius, shape.e);
}

/** True beyond the short axis of an ellipse, where an edge's arc ends at the latest. */
function isBehind(places: Places, shape: ShapeFit, k: number): boolean {
  if (shape.kind === 'circle' || shape.e <= 0) return false;
  const u = -(places.x[k] - shape.noseX) * shape.outX - (places.y[k] - shape.noseY) * shape.outY;
  return u > (shape.radius / shape.e) * Math.sin(WIDEST);
}

/** Variance of the shape's own place along its normal at a place, for unit variance of one point. */
function predicted(places: Places, shape: ShapeFit, k: number): number {
  const dx = places.x[k] - shape.noseX;
  const dy = places.y[k] - shape.noseY;
  const u = -dx * shape.outX - dy * shape.outY;
  const v = -dy * shape.outX + dx * shape.outY;
  const fu = 2 * shape.e * u - 2 * shape.radius;
  const fv = 2 * v;
  const size = Math.hypot(fu, fv) || 1;
  const gradient = [-fu / size, -fv / size, (fu * -v + fv * u) / -size, (-2 * u) / size, (u * u) / size];
  let variance = 0;
  for (let i = 0; i < 5; i++)
    for (let j = 0; j < 5; j++) variance += gradient[i] * gradient[j] * shape.covariance[5 * i + j];
  return Math.max(0, variance);
}

/** True when size and likeness of neighbouring residuals are such as noise gives. */
function isExplained(places: Places, shape: ShapeFit, sigma: number, low: number, high: number): boolean {
  let squares = 0;
  let products = 0;
  let before = 0;
  const n = high - low + 1;
  for (let k = low; k <= high; k++) {
    const d = residualAt(places, shape, k);
    if (d === null) return false;
    const z = (d / sigma) * Math.sqrt(places.weight[k]);
    squares += Math.min(z * z, 16);
    if (k > low) products += Math.max(-9, Math.min(9, z * before));
    before = z;
  }
  const free = n - (shape.kind === 'circle' ? 3 : 5);
  const r = places.correlation;
  const spread = Math.sqrt((1 + r * r) / (1 - r * r));
  return (
    squares < free + LOUD * spread * Math.sqrt(2 * free) && products < r * squares + UNUSUAL * spread * Math.sqrt(n)
  );
}

function circleOver(places: Places, low: number, high: number): ShapeFit | null {
  const { x, y, weight, outX, outY } = places;
  const fit = fitCircle(x.subarray(low, high + 1), y.subarray(low, high + 1), weight.subarray(low, high + 1));
  if (!fit?.converged) return null;
  const rows = [
    [-outX, -outY, -1],
    [outY, -outX, 0],
    [0, 0, 0],
    [0, 0, 1],
    [0, 0, 0],
  ];
  const covariance = new Float64Array(25);
  for (let i = 0; i < 5; i++)
    for (let j = 0; j < 5; j++)
      for (let k = 0; k < 3; k++)
        for (let l = 0; l < 3; l++) covariance[5 * i + j] += rows[i][k] * fit.covariance[3 * k + l] * rows[j][l];
  return {
    kind: 'circle',
    noseX: fit.x + fit.radius * outX,
    noseY: fit.y + fit.radius * outY,
    outX,
    outY,
    radius: fit.radius,
    e: 1,
    rms: fit.rms,
    covariance: scaled(covariance, weight, low, high),
  };
}

function conicOver(places: Places, low: number, high: number): ShapeFit | null {
  const { x, y, weight, outX, outY } = places;
  const fit = fitFreeConic(
    x.subarray(low, high + 1),
    y.subarray(low, high + 1),
    weight.subarray(low, high + 1),
    -outX,
    -outY,
  );
  if (!fit) return null;
  return {
    kind: 'conic',
    noseX: fit.noseX,
    noseY: fit.noseY,
    outX: -fit.axisX,
    outY: -fit.axisY,
    radius: fit.radius,
    e: fit.e,
    rms: fit.rms,
    covariance: scaled(fit.covariance, weight, low, high),
  };
}

/** Covariance for unit variance of one point instead of one place: places are means of equally many points. */
function scaled(covariance: Float64Array, weight: Float64Array, low: number, high: number): Float64Array {
  let sum = 0;
  for (let k = low; k <= high; k++) sum += weight[k];
  const each = sum / (high - low + 1);
  return covariance.map((v) => v / each);
}
