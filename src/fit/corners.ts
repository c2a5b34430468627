import { outlinePointNoise } from './point-noise-outline.ts';

export interface CornerOptions {
  /** Standard deviation of a point along the normal (mm); absent: found in the points. */
  sigma?: number;
  /** Least change of direction that makes a corner (rad). */
  angle?: number;
}

/** An edge sampled by eight points turns by at most 26 degrees a point; a corner turns more. */
const CORNER_ANGLE = (45 * Math.PI) / 180;
/** Numbers of points on each side, smallest first, that directions are fitted to. */
const WINDOWS = [2, 3, 4, 6, 8, 12, 16, 24, 32];
/** A direction must be known this well (rad, standard deviation) before it decides. */
const DIRECTION_NOISE = (5 * Math.PI) / 180;

/**
 * Returns the indices of sharp corners, rising. At each point a parabola is fitted to the points on either side alone
 * (a line when two points do) and the end directions are compared: a rounded edge gives both sides the same direction, a
 * corner does not. The side windows are the shortest whose direction noise allows a decision, and both sides must fit within noise.
 * @param points x0, y0, x1, … (mm), ordered and closed
 */
export function findCorners(points: Float64Array, options: CornerOptions = {}): number[] {
  const count = points.length >> 1;
  const sigma = options.sigma ?? outlinePointNoise(points);
  const threshold = options.angle ?? CORNER_ANGLE;
  const turning = new Float64Array(count);
  const reach = new Int32Array(count);
  for (let i = 0; i < count; i++) {
    for (const window of WINDOWS) {
      if (2 * window >= count) break;
      const hope = chordTurn(points, i, window, sigma, threshold);
      if (hope === 'later') continue;
      if (hope === 'never') break;
      const before = sideDirection(points, i, -1, window, sigma);
      const after = sideDirection(points, i, 1, window, sigma);
      if (before.noise > DIRECTION_NOISE || after.noise > DIRECTION_NOISE) continue;
      reach[i] = window;
      if (before.misfit || after.misfit) break;
      const angle = Math.abs(turn(before.x, before.y, after.x, after.y));
      if (angle > threshold && turnsWithout(points, i, window) > 0.5 * angle) turning[i] = angle;
      break;
    }
  }
  const found = peaks(points, turning, reach).map((i) => (reach[i] === 2 ? i : bestSplit(points, i, reach[i], sigma)));
  return [...new Set(found)].sort((a, b) => a - b);
}

/** Change of direction between the chords before and after point `i`, itself left out: small where `i` is a stray point. */
function turnsWithout(points: Float64Array, i: number, window: number): number {
  const count = points.length >> 1;
  const at = (j: number) => (((i + j) % count) + count) % count;
  const chord = (from: number, to: number) => [
    points[2 * at(to)] - points[2 * at(from)],
    points[2 * at(to) + 1] - points[2 * at(from) + 1],
  ];
  const before = chord(-window, -1);
  const after = chord(1, window);
  return Math.abs(turn(before[0], before[1], after[0], after[1]));
}

/** Index near `i` at which parabolas on either side leave the least misfit; the window is centred anew once. */
function bestSplit(points: Float64Array, i: number, window: number, sigma: number): number {
  const count = points.length >> 1;
  let centre = i;
  for (let round = 0; round < 2; round++) {
    let best = centre;
    let least = Number.POSITIVE_INFINITY;
    for (let shift = 3 - window; shift <= window - 3; shift++) {
      const j = (centre + shift + count) % count;
      const before = sideDirection(points, j, -1, window + shift, sigma);
      const after = sideDirection(points, j, 1, window - shift, sigma);
      if (before.left + after.left >= least) continue;
      least = before.left + after.left;
      best = j;
    }
    centre = best;
  }
  return centre;
}

/**
 * Quick look at a window by its two chords: 'later' when noise surely hides the directions in it, 'never' when the chords
 * turn by less than half the threshold.
 */
function chordTurn(
  points: Float64Array,
  i: number,
  window: number,
  sigma: number,
  threshold: number,
): 'later' | 'never' | 'now' {
  const count = points.length >> 1;
  const a = (i - window + 1 + count) % count;
  const b = (i + window - 1) % count;
  const ax = points[2 * i] - points[2 * a];
  const ay = points[2 * i + 1] - points[2 * a + 1];
  const bx = points[2 * b] - points[2 * i];
  const by = points[2 * b + 1] - points[2 * i + 1];
  const la = Math.hypot(ax, ay);
  const lb = Math.hypot(bx, by);
  // Standard deviation of the end slope of a parabola over evenly spaced points: sqrt(192 / n) sigma / length.
  const noise = sigma * (window === 2 ? Math.SQRT2 : Math.sqrt(192 / window));
  if (noise > 1.6 * DIRECTION_NOISE * Math.min(la, lb)) return 'later';
  return ax * bx + ay * by > Math.cos(0.5 * threshold) * la * lb ? 'never' : 'now';
}

interface SideDirection {
  /** Unit vector along the outline, in the order of the points. */
  x: number;
  y: number;
  /** Standard deviation of the direction (rad). */
  noise: number;
  /** True when the points do not follow a parabola within noise. */
  misfit: boolean;
  /** Sum of squares left (mm²). */
  left: number;
}

/** Direction at point `i` of the parabola through it and the points on one side. */
function sideDirection(points: Float64Array, i: number, side: 1 | -1, window: number, sigma: number): SideDirection {
  const count = points.length >> 1;
  const at = (j: number) => (((i + side * j) % count) + count) % count;
  const far = at(window - 1);
  let tx = side * (points[2 * far] - points[2 * i]);
  let ty = side * (points[2 * far + 1] - points[2 * i + 1]);
  const length = Math.hypot(tx, ty) || 1e-300;
  tx /= length;
  ty /= length;
  if (window === 2) return { x: tx, y: ty, noise: (Math.SQRT2 * sigma) / length, misfit: false, left: 0 };
  const s = [0, 0, 0, 0, 0];
  const b = [0, 0, 0];
  let square = 0;
  for (let j = 0; j < window; j++) {
    const dx = points[2 * at(j)] - points[2 * i];
    const dy = points[2 * at(j) + 1] - points[2 * i + 1];
    const u = (dx * tx + dy * ty) / length;
    const v = dy * tx - dx * ty;
    square += v * v;
    for (let p = 0, power = 1; p < 5; p++, power *= u) {
      s[p] += power;
      if (p < 3) b[p] += power * v;
    }
  }
  const m00 = s[2] * s[4] - s[3] * s[3];
  const m01 = s[2] * s[3] - s[1] * s[4];
  const m02 = s[1] * s[3] - s[2] * s[2];
  const m11 = s[0] * s[4] - s[2] * s[2];
  const m12 = s[1] * s[2] - s[0] * s[3];
  const m22 = s[0] * s[2] - s[1] * s[1];
  const det = s[0] * m00 + s[1] * m01 + s[2] * m02;
  if (!(det > 1e-12)) return { x: tx, y: ty, noise: Number.POSITIVE_INFINITY, misfit: true, left: square };
  const c0 = (m00 * b[0] + m01 * b[1] + m02 * b[2]) / det;
  const c1 = (m01 * b[0] + m11 * b[1] + m12 * b[2]) / det;
  const c2 = (m02 * b[0] + m12 * b[1] + m22 * b[2]) / det;
  const left = Math.max(0, square - c0 * b[0] - c1 * b[1] - c2 * b[2]);
  const slope = c1 / length;
  const norm = Math.hypot(1, slope);
  const free = window - 3;
  const allowed = sigma * sigma * (free + 4 * Math.sqrt(2 * free)) + (2e-3 * length) ** 2;
  return {
    x: (tx - slope * ty) / norm,
    y: (ty + slope * tx) / norm,
    noise: (sigma * Math.sqrt(m11 / det)) / length,
    misfit: left > allowed,
    left,
  };
}

function turn(ax: number, ay: number, bx: number, by: number): number {
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

/** Keeps, of candidates within one window of each other, the sharpest. */
function peaks(points: Float64Array, turning: Float64Array, reach: Int32Array): number[] {
  const count = points.length >> 1;
  const order = [...turning.keys()].filter((i) => turning[i] > 0).sort((a, b) => turning[b] - turning[a] || a - b);
  const taken = new Uint8Array(count);
  const found: number[] = [];
  for (const i of order) {
    if (taken[i] === 1) continue;
    found.push(i);
    const near = reach[i] === 2 ? 0 : reach[i] - 1;
    for (let j = -near; j <= near; j++) taken[(i + j + count) % count] = 1;
  }
  return found.sort((a, b) => a - b);
}
