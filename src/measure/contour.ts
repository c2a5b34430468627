import { evaluateOutline, outlineKnotSpans } from '../fit/outline-evaluate.ts';
import type { Outline } from '../model/outline.ts';

/** Place of an outline: point, unit tangent (counter-clockwise), curvature (convex positive) and speed |dC/dt|. */
export interface ContourPoint {
  x: number;
  y: number;
  tx: number;
  ty: number;
  curvature: number;
  speed: number;
}

/** Dense places of an outline in rising parameter; a corner is listed twice, with the tangent before and after it. */
export interface Contour {
  outline: Outline;
  count: number;
  t: Float64Array;
  x: Float64Array;
  y: Float64Array;
  tx: Float64Array;
  ty: Float64Array;
  curvature: Float64Array;
  /** Arc length from the first place (mm). */
  s: Float64Array;
  perimeter: number;
  /** 1 where the place is a corner. */
  corner: Uint8Array;
}

const LEAST_SAMPLES = 1200;
const GOLDEN = 0.6180339887498949;
const GAUSS = [-0.7745966692414834, 0, 0.7745966692414834];
const GAUSS_WEIGHT = [5 / 18, 8 / 18, 5 / 18];
const out = new Float64Array(8);
const cache = new WeakMap<Outline, Contour>();

/** Returns an empty place record to be filled by `contourAt`. */
export function contourPoint(): ContourPoint {
  return { x: 0, y: 0, tx: 1, ty: 0, curvature: 0, speed: 1 };
}

/** Fills `place` with the outline at `t`; the outward normal is (ty, −tx). */
export function contourAt(outline: Outline, t: number, place: ContourPoint, side?: 'before' | 'after'): void {
  evaluateOutline(outline, t, out, side);
  const speed = Math.hypot(out[2], out[3]);
  place.x = out[0];
  place.y = out[1];
  place.tx = out[2] / speed;
  place.ty = out[3] / speed;
  place.curvature = (out[2] * out[5] - out[3] * out[4]) / (speed * speed * speed);
  place.speed = speed;
}

/** Returns the dense places of an outline; made once and kept while the outline lives. */
export function contourOf(outline: Outline): Contour {
  let contour = cache.get(outline);
  if (!contour) {
    contour = makeContour(outline);
    cache.set(outline, contour);
  }
  return contour;
}

function makeContour(outline: Outline): Contour {
  const knots = outlineKnotSpans(outline);
  const each = Math.max(1, Math.ceil(LEAST_SAMPLES / knots.length));
  const isCorner = (t: number) => outline.corners.some((c) => Math.abs(c - t) <= 1e-12 * outline.period);
  const t: number[] = [];
  const corner: number[] = [];
  for (let k = 0; k < knots.length; k++) {
    const end = k + 1 < knots.length ? knots[k + 1] : knots[0] + outline.period;
    for (let j = 0; j < each; j++) {
      const at = knots[k] + ((end - knots[k]) * j) / each;
      const sharp = j === 0 && isCorner(at);
      if (sharp) {
        t.push(at);
        corner.push(1);
      }
      t.push(at);
      corner.push(sharp ? 1 : 0);
    }
  }
  const count = t.length;
  const [x, y, tx, ty, curvature, s] = Array.from({ length: 6 }, () => new Float64Array(count));
  const place = contourPoint();
  let length = 0;
  for (let i = 0; i < count; i++) {
    const before = corner[i] === 1 && t[i + 1] === t[i];
    contourAt(outline, t[i], place, before ? 'before' : 'after');
    x[i] = place.x;
    y[i] = place.y;
    tx[i] = place.tx;
    ty[i] = place.ty;
    curvature[i] = place.curvature;
    s[i] = length;
    const next = i + 1 < count ? t[i + 1] : t[0] + outline.period;
    length += gaussLength(outline, t[i], next);
  }
  return {
    outline,
    count,
    t: Float64Array.from(t),
    x,
    y,
    tx,
    ty,
    curvature,
    s,
    perimeter: length,
    corner: Uint8Array.from(corner),
  };
}

/** Arc length of a short stretch by the 3-point Gauss rule. */
function gaussLength(outline: Outline, from: number, to: number): number {
  if (to <= from) return 0;
  let sum = 0;
  for (let g = 0; g < 3; g++) {
    evaluateOutline(outline, 0.5 * (from + to) + 0.5 * (to - from) * GAUSS[g], out);
    sum += GAUSS_WEIGHT[g] * Math.hypot(out[2], out[3]);
  }
  return sum * (to - from);
}

/** Returns `t` moved by whole periods to lie in [from, from + period). */
export function parameterFrom(outline: Outline, from: number, t: number): number {
  return t - outline.period * Math.floor((t - from) / outline.period);
}

/** Returns the index of the last listed place at or before `t` (any real parameter). */
export function placeBefore(contour: Contour, t: number): number {
  const wrapped = parameterFrom(contour.outline, contour.t[0], t);
  let low = 0;
  let high = contour.count;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (contour.t[middle] <= wrapped) low = middle;
    else high = middle;
  }
  return low;
}

/** Returns the corner-free parameter interval around `t` as [low, high], infinite for a smooth outline. */
export function smoothPiece(outline: Outline, t: number): [number, number] {
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  for (const corner of outline.corners) {
    const below = t - parameterFrom(outline, 0, t - corner);
    low = Math.max(low, below);
    high = Math.min(high, below + outline.period);
  }
  return [low, high];
}

/** Returns the parameter of the greatest curvature in [from, to]: best of many places, then golden section. */
export function curvatureMaximum(contour: Contour, from: number, to: number): number {
  const { outline } = contour;
  const place = contourPoint();
  const curvature = (t: number): number => {
    contourAt(outline, t, place);
    return place.curvature;
  };
  const gap = (to - from) / 256;
  let best = from + gap;
  for (let k = 1; k < 256; k++) if (curvature(from + k * gap) > curvature(best)) best = from + k * gap;
  let low = best - gap;
  let high = best + gap;
  for (let turn = 0; turn < 40; turn++) {
    const left = high - GOLDEN * (high - low);
    const right = low + GOLDEN * (high - low);
    if (curvature(left) > curvature(right)) high = right;
    else low = left;
  }
  return 0.5 * (low + high);
}
