import type { Outline } from '../model/outline.ts';
import { type Contour, contourAt, contourPoint, parameterFrom, placeBefore } from './contour.ts';
import { describe, type Inscribed } from './inscribed-circle.ts';

const place = contourPoint();
const STEPS = 40;
/** Largest change of the slope of the radius in one step. */
const STEADY = 0.3;

/**
 * Returns the inscribed circle a step ahead found without slopes, or null: searched across the line of centres for the
 * place equally far from both sides, each distance the least over the side nearby. Slow, but a bump of a measured
 * outline, where Newton's method finds no circle, does not stop it.
 * @param start circle nearby
 * @param advance station of the wanted centre along the tangent of `start` (mm)
 */
export function equidistantAt(contour: Contour, start: Inscribed, advance: number): Inscribed | null {
  const { outline } = contour;
  const window = 2 * Math.abs(advance) + start.radius;
  const baseX = start.x + advance * start.tx;
  const baseY = start.y + advance * start.ty;
  const centre = (offset: number): [number, number] => [baseX - offset * start.ty, baseY + offset * start.tx];
  const both = (offset: number) => {
    const [x, y] = centre(offset);
    return [nearestIn(contour, start.first, window, x, y), nearestIn(contour, start.second, window, x, y)];
  };
  const reach = 0.5 * start.radius;
  const excess = (offset: number): number => {
    const [a, b] = both(offset);
    return a.distance - b.distance;
  };
  const offset = root(excess, -reach, reach, 1e-12 * contour.perimeter);
  if (offset === null) return null;
  const [a, b] = both(offset);
  const radius = 0.5 * (a.distance + b.distance);
  if (!isSteady(start, radius, advance)) return null;
  const circle = describe(outline, a.t, b.t, radius);
  const [x, y] = centre(offset);
  return { ...circle, x, y };
}

/** True when a radius a step ahead agrees with the slope of the radius at the start. */
export function isSteady(start: Inscribed, radius: number, advance: number): boolean {
  return Math.abs(radius - start.radius - start.slope * advance) <= STEADY * Math.abs(advance) + 1e-9 * start.radius;
}

/** True when no place near either contact lies deeper than `tolerance` (mm) inside a circle. */
export function isClear(contour: Contour, circle: Inscribed, tolerance: number): boolean {
  return [circle.first, circle.second].every(
    (t) => nearestIn(contour, t, circle.radius, circle.x, circle.y).distance > circle.radius - tolerance,
  );
}

/** Zero of a rising or falling function by the Illinois rule, null without a change of sign. */
function root(f: (x: number) => number, low: number, high: number, tolerance: number): number | null {
  let atLow = f(low);
  let atHigh = f(high);
  if (atLow * atHigh > 0) return null;
  for (let turn = 0; turn < STEPS; turn++) {
    const x = (low * atHigh - high * atLow) / (atHigh - atLow);
    const value = f(x);
    if (Math.abs(value) <= tolerance) return x;
    if (value * atHigh < 0) {
      low = high;
      atLow = atHigh;
    } else atLow *= 0.5;
    high = x;
    atHigh = value;
  }
  return high;
}

/** Nearest place to a point within a length of outline to either side of a parameter: listed places, then polish. */
function nearestIn(
  contour: Contour,
  around: number,
  window: number,
  x: number,
  y: number,
): { t: number; distance: number } {
  const { outline, count, t } = contour;
  const share = (window / contour.perimeter) * outline.period;
  const from = around - share;
  let best = around;
  let least = Number.POSITIVE_INFINITY;
  let gap = 0;
  let i = placeBefore(contour, from) + 1;
  let last = from;
  for (let k = 0; k < count; k++, i++) {
    const at = parameterFrom(outline, from, t[i % count]);
    if (at > around + share || at < last) break;
    const squared = (contour.x[i % count] - x) ** 2 + (contour.y[i % count] - y) ** 2;
    if (squared < least) [least, best, gap] = [squared, at, 2 * Math.max(at - last, share / count)];
    last = at;
  }
  return polish(outline, best, gap, x, y);
}

/** Newton's method on the foot, kept within a gap of the start. */
function polish(outline: Outline, start: number, gap: number, x: number, y: number): { t: number; distance: number } {
  let t = start;
  for (let step = 0; step < 12; step++) {
    contourAt(outline, t, place);
    const dx = x - place.x;
    const dy = y - place.y;
    const bend = 1 - place.curvature * (dy * place.tx - dx * place.ty);
    const move = (dx * place.tx + dy * place.ty) / place.speed / Math.max(0.2, bend);
    const next = Math.max(start - gap, Math.min(start + gap, t + move));
    const moved = Math.abs(next - t);
    t = next;
    if (moved < 1e-11 * outline.period) break;
  }
  contourAt(outline, t, place);
  return { t, distance: Math.hypot(x - place.x, y - place.y) };
}
