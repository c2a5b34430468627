import type { FittedOutline, Outline } from '../model/outline.ts';
import { type Contour, contourAt, contourPoint, parameterFrom, placeBefore } from './contour.ts';

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
}

const DENSE = 96;
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
 * their neighbours times their trust, else places of the outline with the weights of a Gauss rule.
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
  return { x, y, weights, measured: false };
}

function measuredPoints(fitted: FittedOutline, arc: EdgeArc): ArcPoints {
  const { outline, parameters, points, weights: trust } = fitted;
  const inside: [number, number][] = [];
  for (let i = 0; i < parameters.length; i++) {
    const t = parameterFrom(outline, arc.from, parameters[i]);
    if (t <= arc.to && trust[i] > 0) inside.push([t, i]);
  }
  inside.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const count = inside.length;
  const x = Float64Array.from(inside, ([, i]) => points[2 * i]);
  const y = Float64Array.from(inside, ([, i]) => points[2 * i + 1]);
  const speed = inside.map(([t]) => {
    contourAt(outline, t, place);
    return place.speed;
  });
  const weights = Float64Array.from(inside, ([, i], k) => {
    const low = Math.max(0, k - NEIGHBOURS);
    const high = Math.min(count - 1, k + NEIGHBOURS);
    const spacing = high > low ? (inside[high][0] - inside[low][0]) / (high - low) : arc.to - arc.from;
    return spacing * speed[k] * trust[i];
  });
  return { x, y, weights, measured: true };
}
