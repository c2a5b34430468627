import type { Outline } from '../model/outline.ts';
import { evaluateOutline, wrapParameter } from './outline-evaluate.ts';
import { outlineGrid } from './outline-grid.ts';
import { evaluatePiece, type OutlinePieces, outlinePieces, spanAt } from './outline-pieces.ts';

/** Nearest place of an outline to a point. */
export interface OutlineFoot {
  /** Parameter of the nearest place, within one period. */
  t: number;
  /** Distance (mm); positive outside a counter-clockwise outline. */
  distance: number;
  /** The nearest place (mm). */
  x: number;
  y: number;
  /** True when the nearest place is a corner. */
  atCorner: boolean;
}

const MAX_STEPS = 20;
const state = { t: 0, squared: 0 };
const out = new Float64Array(8);
const outBefore = new Float64Array(8);

/**
 * Returns the foot of a point on the outline. Without a guess the answer is the global nearest place: bounding circles
 * of short stretches rule out the rest, then Newton's method inside each stretch left. With a guess the search stays
 * local: Newton from there, and only if that fails the global search.
 * @param guess parameter near the wanted foot
 */
export function outlineFoot(outline: Outline, x: number, y: number, guess?: number): OutlineFoot {
  search(outline, x, y, guess ?? Number.NaN);
  const distance = signedDistance(outline, x, y, state.t);
  const t = wrapParameter(outline, state.t);
  return { t, distance, x: out[0], y: out[1], atCorner: isCorner(outline, t) };
}

/**
 * Finds the feet of many points; see `outlineFoot`.
 * @param points x0, y0, x1, … (mm)
 * @param guess a parameter a point for a local search, or null for global ones
 * @param outT receives the parameters, within one period
 * @param outDistance receives the signed distances (mm, positive outside)
 */
export function outlineFeet(
  outline: Outline,
  points: Float64Array,
  guess: Float64Array | null,
  outT: Float64Array,
  outDistance: Float64Array,
): void {
  const count = points.length >> 1;
  for (let i = 0; i < count; i++) {
    search(outline, points[2 * i], points[2 * i + 1], guess ? guess[i] : Number.NaN);
    outDistance[i] = signedDistance(outline, points[2 * i], points[2 * i + 1], state.t);
    outT[i] = wrapParameter(outline, state.t);
  }
}

function isCorner(outline: Outline, t: number): boolean {
  for (const corner of outline.corners) if (Math.abs(corner - t) <= 1e-12 * outline.period) return true;
  return false;
}

/** Sign from the normal; at a corner from the sum of both unit normals. Leaves the foot's place in `out`. */
function signedDistance(outline: Outline, x: number, y: number, t: number): number {
  evaluateOutline(outline, t, out);
  const dx = x - out[0];
  const dy = y - out[1];
  let nx = out[3];
  let ny = -out[2];
  if (outline.corners.length > 0 && isCorner(outline, wrapParameter(outline, t))) {
    evaluateOutline(outline, t, outBefore, 'before');
    const after = Math.hypot(nx, ny);
    const before = Math.hypot(outBefore[2], outBefore[3]);
    nx = nx / after + outBefore[3] / before;
    ny = ny / after - outBefore[2] / before;
  }
  const distance = Math.hypot(dx, dy);
  return dx * nx + dy * ny < 0 ? -distance : distance;
}

function search(outline: Outline, x: number, y: number, guess: number): void {
  const pieces = outlinePieces(outline);
  if (!Number.isNaN(guess) && localSearch(outline, pieces, x, y, guess)) return;
  globalSearch(outline, pieces, x, y);
}

/** Newton from a guess, crossing knots; steps at most one span; false when it does not settle at a minimum. */
function localSearch(outline: Outline, pieces: OutlinePieces, x: number, y: number, guess: number): boolean {
  const { breaks } = pieces;
  let t = wrapParameter(outline, guess);
  let lastKnot = -1;
  for (let step = 0; step < MAX_STEPS; step++) {
    const span = spanAt(breaks, t);
    evaluatePiece(pieces, span, t - breaks[span], out);
    const slope = (out[0] - x) * out[2] + (out[1] - y) * out[3];
    const speed2 = out[2] * out[2] + out[3] * out[3];
    const bend = speed2 + (out[0] - x) * out[4] + (out[1] - y) * out[5];
    const move = -slope / (bend > 0.2 * speed2 ? bend : speed2);
    const low = breaks[span];
    const high = breaks[span + 1];
    let next = t + move;
    if (Math.abs(move) <= 1e-13 * outline.period) {
      state.t = next;
      return true;
    }
    const width = high - low;
    next = Math.max(low - width, Math.min(high + width, next));
    for (const corner of outline.corners) {
      for (const knot of [corner, corner + outline.period]) {
        if (!((t < knot && next > knot) || (t > knot && next < knot))) continue;
        if (lastKnot === corner) return false;
        lastKnot = corner;
        next = knot;
      }
    }
    t = wrapParameter(outline, next);
  }
  return false;
}

function globalSearch(outline: Outline, pieces: OutlinePieces, x: number, y: number): void {
  const grid = outlineGrid(outline);
  const { centreX, centreY, radius, groupX, groupY, groupRadius, groupSize } = grid;
  const groups = groupX.length;
  const count = centreX.length;
  let best = Number.POSITIVE_INFINITY;
  let first = 0;
  for (let g = 0; g < groups; g++) {
    const d = Math.hypot(x - groupX[g], y - groupY[g]) + groupRadius[g];
    if (d < best) {
      best = d;
      first = g;
    }
  }
  state.squared = best * best * (1 + 1e-12) + Number.MIN_VALUE;
  for (let visit = 0; visit <= groups; visit++) {
    const g = visit === 0 ? first : visit - 1;
    if (visit > 0 && g === first) continue;
    const gap = Math.hypot(x - groupX[g], y - groupY[g]) - groupRadius[g];
    if (gap > 0 && gap * gap > state.squared) continue;
    const end = Math.min(count, (g + 1) * groupSize);
    for (let s = g * groupSize; s < end; s++) {
      const near = Math.hypot(x - centreX[s], y - centreY[s]) - radius[s];
      if (near > 0 && near * near > state.squared) continue;
      refine(pieces, grid.span[s], grid.from[s], grid.from[s + 1], x, y);
    }
  }
}

/** Newton inside one stretch; keeps the result when it is nearer than what is known. */
function refine(pieces: OutlinePieces, span: number, from: number, end: number, x: number, y: number): void {
  const start = pieces.breaks[span];
  const low = from - start;
  const high = end - start;
  let h = 0.5 * (low + high);
  for (let step = 0; step < MAX_STEPS; step++) {
    evaluatePiece(pieces, span, h, out);
    const slope = (out[0] - x) * out[2] + (out[1] - y) * out[3];
    const speed2 = out[2] * out[2] + out[3] * out[3];
    const bend = speed2 + (out[0] - x) * out[4] + (out[1] - y) * out[5];
    const next = Math.max(low, Math.min(high, h - slope / (bend > 0.2 * speed2 ? bend : speed2)));
    const moved = Math.abs(next - h);
    h = next;
    if (moved <= 1e-14 * (start + high) + 1e-300) break;
  }
  evaluatePiece(pieces, span, h, out);
  const squared = (out[0] - x) ** 2 + (out[1] - y) ** 2;
  if (squared < state.squared) {
    state.squared = squared;
    state.t = h === high ? end : start + h;
  }
}
