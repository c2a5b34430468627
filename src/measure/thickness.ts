import { type CamberLine, circleAt } from './camber-line.ts';
import type { Contour } from './contour.ts';
import type { Inscribed } from './inscribed-circle.ts';

/** The largest inscribed circle. */
export interface LargestCircle {
  circle: Inscribed;
  /** Fraction of the line of centres. */
  at: number;
  /** Fractions between which the diameter stays within `tolerance` of the largest. */
  from: number;
  to: number;
  /** True when that interval is so long that `at` says nothing. */
  plateau: boolean;
}

/** Share of the line of centres beyond which the thickest place counts as a plateau. */
const PLATEAU = 0.2;

/**
 * Returns the largest inscribed circle: the best swept one, then halving on the slope of the radius between its
 * neighbours.
 * @param tolerance amount (mm) by which diameters count as equal
 */
export function largestCircle(contour: Contour, line: CamberLine, tolerance: number): LargestCircle {
  const { circles, along, length } = line;
  const n = circles.length;
  let best = 0;
  for (let i = 1; i < n; i++) if (circles[i].radius > circles[best].radius) best = i;
  let circle = circles[best];
  let at = along[best];
  let low = along[Math.max(0, best - 1)];
  let high = along[Math.min(n - 1, best + 1)];
  let last: Inscribed | null = null;
  for (let turn = 0; turn < 60 && high - low > 1e-13 * length; turn++) {
    const middle = 0.5 * (low + high);
    last = circleAt(contour, line, middle);
    if (!last) break;
    if (last.slope > 0) low = middle;
    else high = middle;
  }
  // The radius is too flat there to tell circles apart; the zero of its slope is the place.
  if (last && last.radius >= circle.radius * (1 - 1e-9)) {
    circle = last;
    at = 0.5 * (low + high);
  }
  const least = circle.radius - 0.5 * tolerance;
  let from = best;
  let to = best;
  while (from > 0 && circles[from - 1].radius >= least) from--;
  while (to < n - 1 && circles[to + 1].radius >= least) to++;
  const plateau = along[to] - along[from] > PLATEAU * length;
  return { circle, at: at / length, from: along[from] / length, to: along[to] / length, plateau };
}

/** Returns the centre farthest from the chord of centres: its distance (mm), fraction of the line, and circle. */
export function farthestCentre(
  contour: Contour,
  line: CamberLine,
): { distance: number; at: number; circle: Inscribed } | null {
  const { leading, trailing, circles, along } = line;
  const span = Math.hypot(trailing.x - leading.x, trailing.y - leading.y);
  const dx = (trailing.x - leading.x) / span;
  const dy = (trailing.y - leading.y) / span;
  const height = (c: { x: number; y: number }) => Math.abs((c.y - leading.y) * dx - (c.x - leading.x) * dy);
  let best = 1;
  for (let i = 1; i < circles.length - 1; i++) if (height(circles[i]) > height(circles[best])) best = i;
  const [h0, h1, h2] = [best - 1, best, best + 1].map((i) => height(circles[i]));
  const left = along[best - 1] - along[best];
  const right = along[best + 1] - along[best];
  const a = ((h0 - h1) / left - (h2 - h1) / right) / (left - right);
  const b = (h0 - h1) / left - a * left;
  const step = a < 0 ? Math.max(left, Math.min(right, -b / (2 * a))) : 0;
  const circle = circleAt(contour, line, along[best] + step);
  return circle ? { distance: height(circle), at: (along[best] + step) / line.length, circle } : null;
}
