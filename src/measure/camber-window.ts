import { solveSymmetric } from '../math/least-squares.ts';
import { type CamberLine, circleAt } from './camber-line.ts';
import type { Inscribed } from './inscribed-circle.ts';
import { centreTerms, type OutlineTerm } from './outline-terms.ts';
import type { SectionContext } from './section-context.ts';
import { fitPolynomial } from './weighted-polynomial.ts';

/** Stretch of the line of centres near an edge, in % of its length from that edge's end-circle centre. */
export interface CamberWindow {
  from: number;
  to: number;
  form: 'quadratic' | 'circle';
}

/** Inscribed circles spread over a window, and the length each stands for. */
export interface WindowCircles {
  circles: Inscribed[];
  weights: Float64Array;
  /** Ends of the window that circles were found in (%). */
  from: number;
  to: number;
}

/** The smooth line through a window, where it is carried to. */
export interface WindowLine {
  window: WindowCircles;
  /** Direction (rad from +X, leading to trailing) at the wanted place. */
  direction: number;
  /** Curvature (1/mm) there, positive turning left. */
  bend: number;
  /** Distance (mm) of the wanted place to the left of the line. */
  offset: number;
  /** What moves the direction, and what moves the line to its left, there. */
  directionTerms: OutlineTerm[];
  leftTerms: OutlineTerm[];
  /** Root mean square distance of the centres from the line (mm). */
  rms: number;
}

/** 4-point Gauss rule on [0, 1]. */
const NODES = [0.06943184420297371, 0.3300094782075719, 0.6699905217924281, 0.9305681557970263];
const NODE_WEIGHTS = [0.1739274225687269, 0.3260725774312731, 0.3260725774312731, 0.1739274225687269];
const PANELS = 8;
/** Least share of a window that must hold circles. */
const LEAST_SHARE = 0.5;
const MOST_STEPS = 30;

/** Returns the circles of a window, or the reason why there are none. */
export function windowCircles(
  context: SectionContext,
  line: CamberLine,
  which: 'leading' | 'trailing',
  from: number,
  to: number,
): WindowCircles | string {
  if (!(from < to)) return 'The window ends before it begins.';
  const { along, length } = line;
  const lead = which === 'leading';
  const nearest = lead ? along[0] : length - along[along.length - 1];
  const farthest = lead ? along[along.length - 1] : length - along[0];
  const start = Math.max((from / 100) * length, nearest);
  const end = Math.min((to / 100) * length, farthest);
  if (end - start < (LEAST_SHARE * (to - from) * length) / 100) return 'The window lies within the edge.';
  const circles: Inscribed[] = [];
  const weights: number[] = [];
  const panel = (end - start) / PANELS;
  for (let k = 0; k < 4 * PANELS; k++) {
    const place = start + panel * ((k >> 2) + NODES[k & 3]);
    const circle = circleAt(context.contour, line, lead ? place : length - place);
    if (!circle) continue;
    circles.push(circle);
    weights.push(panel * NODE_WEIGHTS[k & 3]);
  }
  if (circles.length < 2 * PANELS) return 'The window holds too few inscribed circles.';
  return {
    circles,
    weights: Float64Array.from(weights),
    from: (100 * start) / length,
    to: (100 * end) / length,
  };
}

/**
 * Returns the line fitted to the centres of a window, carried to a place. Weights: length along the line of centres.
 * Quadratic: distance from the line through both end-circle centres over the length along it. Circle: least squares of
 * the distances across it, straight included.
 * @param x,y the place (mm)
 */
export function windowLine(
  line: CamberLine,
  window: WindowCircles,
  form: CamberWindow['form'],
  x: number,
  y: number,
): WindowLine | null {
  return form === 'circle' ? circleLine(window, x, y) : quadraticLine(line, window, x, y);
}

function quadraticLine(line: CamberLine, window: WindowCircles, x: number, y: number): WindowLine {
  const { leading, trailing } = line;
  const { circles, weights } = window;
  const frame = Math.atan2(trailing.y - leading.y, trailing.x - leading.x);
  const dx = Math.cos(frame);
  const dy = Math.sin(frame);
  const station = Float64Array.from(circles, (c) => (c.x - x) * dx + (c.y - y) * dy);
  const height = Float64Array.from(circles, (c) => (c.y - y) * dx - (c.x - x) * dy);
  const fit = fitPolynomial(station, height, weights, 2);
  const tilt = Math.atan(fit.slope(0));
  const cosine = Math.cos(tilt);
  // A centre that moves across the line moves the height at its station by more.
  const steep = (i: number) => 1 / Math.max(0.2, circles[i].tx * dx + circles[i].ty * dy);
  const terms = (gains: Float64Array, factor: number) =>
    circles.flatMap((c, i) => centreTerms(c, gains[i] * factor * steep(i)));
  return {
    window,
    direction: frame + tilt,
    bend: fit.bend(0) * cosine ** 3,
    offset: -fit.value(0) * cosine,
    directionTerms: terms(fit.slopeGains(0), cosine * cosine),
    leftTerms: terms(fit.valueGains(0), cosine),
    rms: fit.rms * cosine,
  };
}

/** Gauss-Newton on left shift, direction and curvature of an arc, seen from the place itself. */
function circleLine(window: WindowCircles, x: number, y: number): WindowLine | null {
  const { circles, weights } = window;
  const n = circles.length;
  const first = circles[0];
  const size = Math.hypot(first.x - x, first.y - y) + Math.hypot(circles[n - 1].x - x, circles[n - 1].y - y);
  let shift = 0;
  let direction = Math.atan2(first.ty, first.tx);
  let bend = 0;
  const residual = new Float64Array(n);
  const rows = new Float64Array(3 * n);
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (let step = 0; step < MOST_STEPS; step++) {
    const c = Math.cos(direction);
    const s = Math.sin(direction);
    normal.fill(0);
    right.fill(0);
    for (let i = 0; i < n; i++) {
      const u = (circles[i].x - x) * c + (circles[i].y - y) * s;
      const v = (circles[i].y - y) * c - (circles[i].x - x) * s - shift;
      residual[i] = v - 0.5 * bend * (u * u + v * v);
      rows[3 * i] = -(1 - bend * v);
      rows[3 * i + 1] = -u * (1 + bend * shift);
      rows[3 * i + 2] = -0.5 * (u * u + v * v);
      for (let a = 0; a < 3; a++) {
        right[a] -= weights[i] * rows[3 * i + a] * residual[i];
        for (let b = 0; b < 3; b++) normal[3 * a + b] += weights[i] * rows[3 * i + a] * rows[3 * i + b];
      }
    }
    const move = solveSymmetric(normal, right);
    if (!move) return null;
    shift += move[0];
    direction += move[1];
    bend += move[2];
    const moved = Math.abs(move[0]) + size * Math.abs(move[1]) + size * size * Math.abs(move[2]);
    if (moved <= 1e-13 * size) break;
  }
  const directionTerms: OutlineTerm[] = [];
  const leftTerms: OutlineTerm[] = [];
  for (let i = 0; i < n; i++) {
    for (let a = 0; a < 3; a++) right[a] = -weights[i] * rows[3 * i + a];
    const move = solveSymmetric(normal, right);
    if (!move) return null;
    leftTerms.push(...centreTerms(circles[i], move[0]));
    directionTerms.push(...centreTerms(circles[i], move[1]));
  }
  const total = weights.reduce((sum, w) => sum + w, 0);
  const squares = residual.reduce((sum, e, i) => sum + weights[i] * e * e, 0);
  const wrapped = Math.atan2(Math.sin(direction), Math.cos(direction));
  return {
    window,
    direction: wrapped,
    bend,
    offset: -shift,
    directionTerms,
    leftTerms,
    rms: Math.sqrt(squares / total),
  };
}
