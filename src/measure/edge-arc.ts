import { lowerBound } from '../math/lower-bound.ts';
import type { FittedOutline, Outline } from '../model/outline.ts';
import { type Contour, contourAt, contourPoint, parameterFrom, placeBefore } from './contour.ts';
import { sortedFeet } from './sorted-feet.ts';

/** Stretch of an outline round an edge: parameters rising, `nose` between them. */
export interface EdgeArc {
  from: number;
  nose: number;
  to: number;
}

/** Points of an arc with the arc length each stands for (mm). */
export interface ArcPoints {
  x: Float64Array;
  y: Float64Array;
  weights: Float64Array;
  /** True for measured points, false for places of an exact outline. */
  measured: boolean;
  /** Measured points behind the places; a place of many points stands for their mean. */
  count: number;
  /** Root mean square of the points about the means (mm). */
  within: number;
}

const DENSE = 96;
/** Means an arc's measured points are gathered into, at most. */
const MOST_PLACES = 160;
/** Points to either side that tell the spacing at a measured point. */
const NEIGHBOURS = 8;
/** 4-point Gauss rule on [0, 1]. */
const NODES = [0.06943184420297371, 0.3300094782075719, 0.6699905217924281, 0.9305681557970263];
const NODE_WEIGHTS = [0.1739274225687269, 0.3260725774312731, 0.3260725774312731, 0.1739274225687269];
const place = contourPoint();

/**
 * Returns the place in [from, to] farthest along (dx, dy), its normal along that direction when the outline is smooth
 * there.
 */
export function noseBetween(contour: Contour, from: number, to: number, dx: number, dy: number): number {
  const { outline } = contour;
  let best = from;
  let value = Number.NEGATIVE_INFINITY;
  for (let k = 0; k <= 2 * DENSE; k++) {
    const t = from + ((to - from) * k) / (2 * DENSE);
    contourAt(outline, t, place);
    const along = place.x * dx + place.y * dy;
    if (along > value) [value, best] = [along, t];
  }
  const gap = (to - from) / (2 * DENSE);
  return crossing(outline, best - gap, best + gap, (p) => p.tx * dx + p.ty * dy) ?? best;
}

/** Halving between two parameters for a change of sign of a quantity; null when there is none. */
function crossing(outline: Outline, low: number, high: number, f: (p: typeof place) => number): number | null {
  contourAt(outline, low, place);
  const atLow = f(place);
  contourAt(outline, high, place);
  if (atLow * f(place) > 0) return null;
  for (let turn = 0; turn < 50; turn++) {
    const middle = 0.5 * (low + high);
    contourAt(outline, middle, place);
    if (f(place) * atLow > 0) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/**
 * Returns the stretch round a nose over which the normal stays within `halfAngle` (rad) of (dx, dy), or null when a
 * corner or another nose comes first on either side.
 */
export function edgeArc(contour: Contour, nose: number, dx: number, dy: number, halfAngle: number): EdgeArc | null {
  const to = walk(contour, nose, 1, dx, dy, halfAngle);
  const from = walk(contour, nose, -1, dx, dy, halfAngle);
  return from === null || to === null ? null : { from, nose, to };
}

function walk(contour: Contour, nose: number, way: 1 | -1, dx: number, dy: number, halfAngle: number): number | null {
  const { outline, count, t, tx, ty, corner } = contour;
  const beyond = (x: number, y: number) => way * Math.atan2(y * dx - x * dy, x * dx + y * dy) - halfAngle;
  let i = way > 0 ? placeBefore(contour, nose) + 1 : placeBefore(contour, nose);
  let last = nose;
  for (let k = 0; k < count / 2; k++, i += way) {
    const j = ((i % count) + count) % count;
    const at = way > 0 ? parameterFrom(outline, nose, t[j]) : parameterFrom(outline, nose - outline.period, t[j]);
    const angle = beyond(ty[j], -tx[j]);
    if (angle >= 0 && angle < 1.2) {
      if (corner[j] === 1 && way < 0) return null;
      return crossing(outline, last, at, (p) => beyond(p.ty, -p.tx));
    }
    if (corner[j] === 1) return null;
    last = at;
  }
  return null;
}

/**
 * Returns the points of an arc: the measured ones of a fit when given, weighted by the mean spacing of
 * their neighbours times their trust and, where dense, averaged; else places of the outline with the weights of a Gauss rule.
 */
export function arcPoints(outline: Outline, fitted: FittedOutline | undefined, arc: EdgeArc): ArcPoints {
  if (fitted) return measuredPoints(fitted, arc);
  const count = 4 * (DENSE / 4);
  const [x, y, weights] = [new Float64Array(count), new Float64Array(count), new Float64Array(count)];
  const panel = (arc.to - arc.from) / (DENSE / 4);
  for (let i = 0; i < count; i++) {
    contourAt(outline, arc.from + panel * ((i >> 2) + NODES[i & 3]), place);
    x[i] = place.x;
    y[i] = place.y;
    weights[i] = NODE_WEIGHTS[i & 3] * panel * place.speed;
  }
  return { x, y, weights, measured: false, count, within: 0 };
}

/** Averages the measured points of an arc, runs of equal count, as deviations from the outline at their mean foot. */
function measuredPoints(fitted: FittedOutline, arc: EdgeArc): ArcPoints {
  const { outline, points, weights: trust } = fitted;
  const { order, t: feet } = sortedFeet(fitted);
  const n = feet.length;
  const first = parameterFrom(outline, feet[0] ?? 0, arc.from);
  const start = lowerBound(feet, first);
  const span = arc.to - arc.from;
  let count = 0;
  while (count < n && footFrom(feet, outline.period, start + count) - first <= span) count++;
  const places = Math.min(count, MOST_PLACES);
  const [x, y, weights] = [new Float64Array(places), new Float64Array(places), new Float64Array(places)];
  const at = (k: number) => footFrom(feet, outline.period, start + k);
  let squares = 0;
  let total = 0;
  for (let b = 0; b < places; b++) {
    const from = Math.floor((b * count) / places);
    const to = Math.floor(((b + 1) * count) / places);
    const sums = [0, 0, 0, 0];
    for (let k = from; k < to; k++) {
      const i = order[(start + k) % n];
      const low = Math.max(0, k - NEIGHBOURS);
      const high = Math.min(count - 1, k + NEIGHBOURS);
      const spacing = high > low ? (at(high) - at(low)) / (high - low) : span;
      contourAt(outline, at(k), place);
      const w = spacing * place.speed * trust[i];
      const d = (points[2 * i] - place.x) * place.ty - (points[2 * i + 1] - place.y) * place.tx;
      sums[0] += w;
      sums[1] += w * at(k);
      sums[2] += w * d;
      sums[3] += w * d * d;
    }
    const deviation = sums[2] / sums[0];
    contourAt(outline, sums[1] / sums[0], place);
    x[b] = place.x + deviation * place.ty;
    y[b] = place.y - deviation * place.tx;
    weights[b] = sums[0];
    squares += sums[3] - sums[0] * deviation * deviation;
    total += sums[0];
  }
  const within = total > 0 ? Math.sqrt(Math.max(0, squares / total)) : 0;
  return { x, y, weights, measured: true, count, within };
}

/** Foot at a place of the sorted list, counted on beyond its end. */
function footFrom(feet: Float64Array, period: number, k: number): number {
  return k < feet.length ? feet[k] : feet[k - feet.length] + period;
}

/** Standard deviation of a place of measured points for that of one point. */
export function placeSigma(points: ArcPoints, sigma: number): number {
  return sigma * Math.sqrt(points.x.length / points.count);
}

/** Root mean square misfit of the points, from that of their means. */
export function pointRms(points: ArcPoints, rms: number): number {
  return Math.hypot(rms, points.within);
}
