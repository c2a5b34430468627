import type { Outline } from '../model/outline.ts';
import { evaluateOutline } from './outline-evaluate.ts';

/** Measured points with their feet on an outline; weight 0 is a point set aside. */
export interface EdgePoints {
  outline: Outline;
  points: Float64Array;
  parameters: Float64Array;
  weights: Float64Array;
}

/** Means of short runs of points round an edge, in order of rising parameter. */
export interface EdgePlaces {
  x: Float64Array;
  y: Float64Array;
  /** Parameter of the mean foot, and angle of the normal there from that at the nose (rad), rising. */
  t: Float64Array;
  angle: Float64Array;
  /** Length (mm) along the places from the first. */
  length: Float64Array;
  /** Points behind each. */
  weight: Float64Array;
  /** Index of the place nearest the nose. */
  middle: number;
  /** Outward unit normal at the nose, and its angle (rad). */
  outX: number;
  outY: number;
  direction: number;
}

/** Share of the outline to either side of the nose that is looked at. */
const REACH = 0.2;
/** Points within ±60° of normal direction are gathered into about this many places. */
const COUNTED = Math.PI / 3;
const PLACES = 300;
/** Places to either side over which the angle is averaged: noise makes the outline's own normal swing. */
const STEADY = 12;

/** Returns the places round a nose, or null when there are too few points. A corner near the nose ends the stretch. */
export function edgePlaces(given: EdgePoints, nose: number): EdgePlaces | null {
  const { outline, points, parameters, weights } = given;
  const { period } = outline;
  const out = new Float64Array(8);
  evaluateOutline(outline, nose, out);
  const direction = Math.atan2(-out[2], out[3]);
  let [low, high] = [nose - REACH * period, nose + REACH * period];
  for (const corner of outline.corners) {
    const shifted = corner + period * Math.round((nose - corner) / period);
    if (shifted >= nose) high = Math.min(high, shifted);
    else low = Math.max(low, shifted);
  }
  const found: { t: number; i: number }[] = [];
  parameters.forEach((parameter, i) => {
    const t = parameter + period * Math.round((nose - parameter) / period);
    if (weights[i] > 0 && t > low && t < high) found.push({ t, i });
  });
  found.sort((a, b) => a.t - b.t || a.i - b.i);
  const angleAt = (t: number): number => {
    evaluateOutline(outline, t, out);
    const turn = Math.atan2(-out[2], out[3]) - direction;
    return Math.atan2(Math.sin(turn), Math.cos(turn));
  };
  const near = found.filter(({ t }) => Math.abs(angleAt(t)) < COUNTED).length;
  const run = Math.max(1, Math.round(near / PLACES));
  const count = Math.floor(found.length / run);
  if (count < 8) return null;
  const [x, y, t, angle, weight, length] = Array.from({ length: 6 }, () => new Float64Array(count));
  let before: [number, number] | null = null;
  let middle = 0;
  for (let k = 0; k < count; k++) {
    let [foot, off] = [0, 0];
    for (let j = k * run; j < (k + 1) * run; j++) {
      const { t: at, i } = found[j];
      evaluateOutline(outline, at, out);
      const speed = Math.hypot(out[2], out[3]);
      off += ((points[2 * i] - out[0]) * out[3] - (points[2 * i + 1] - out[1]) * out[2]) / speed / run;
      foot += at / run;
    }
    angle[k] = angleAt(foot);
    evaluateOutline(outline, foot, out);
    const speed = Math.hypot(out[2], out[3]);
    x[k] = out[0] + (off * out[3]) / speed;
    y[k] = out[1] - (off * out[2]) / speed;
    t[k] = foot;
    weight[k] = run;
    length[k] = before ? length[k - 1] + Math.hypot(out[0] - before[0], out[1] - before[1]) : 0;
    before = [out[0], out[1]];
    if (Math.abs(foot - nose) < Math.abs(t[middle] - nose)) middle = k;
  }
  return {
    x,
    y,
    t,
    angle: averaged(angle),
    length,
    weight,
    middle,
    outX: Math.cos(direction),
    outY: Math.sin(direction),
    direction,
  };
}

/** Running means of rising angles over `STEADY` places to either side, fewer at the ends. */
function averaged(angle: Float64Array): Float64Array {
  const n = angle.length;
  const sums = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) sums[k + 1] = sums[k] + angle[k];
  return angle.map((_, k) => {
    const reach = Math.min(STEADY, k, n - 1 - k);
    return (sums[k + reach + 1] - sums[k - reach]) / (2 * reach + 1);
  });
}
