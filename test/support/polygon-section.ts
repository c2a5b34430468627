import type { BladeLaw } from '../../samples/blade.ts';
import { type BladePlace, nominalSurfacePoint } from '../../samples/deviation.ts';

/** A closed section measured as a fine polygon x0, y0, x1, …: by other means than the tool's. Lengths in mm. */
export interface Ends {
  length: number;
  /** The two points farthest apart, the one with the smaller x first. */
  at: [[number, number], [number, number]];
  index: [number, number];
  dirX: number;
  dirY: number;
}

/** Returns the points farthest apart: the extremes along a direction, found in turns, then refined by parabolas. */
export function endsOf(points: Float64Array): Ends {
  const n = points.length / 2;
  let [dx, dy] = [1, 0];
  let index: [number, number] = [0, 0];
  for (let round = 0; round < 20; round++) {
    index = [extreme(points, -dx, -dy), extreme(points, dx, dy)];
    const [a, b] = index;
    const length = Math.hypot(points[2 * b] - points[2 * a], points[2 * b + 1] - points[2 * a + 1]);
    [dx, dy] = [(points[2 * b] - points[2 * a]) / length, (points[2 * b + 1] - points[2 * a + 1]) / length];
  }
  const at = index.map((i, end) => peak(points, n, i, end === 0 ? -dx : dx, end === 0 ? -dy : dy)) as Ends['at'];
  const length = Math.hypot(at[1][0] - at[0][0], at[1][1] - at[0][1]);
  return { length, at, index, dirX: (at[1][0] - at[0][0]) / length, dirY: (at[1][1] - at[0][1]) / length };
}

function extreme(points: Float64Array, dx: number, dy: number): number {
  let best = 0;
  for (let i = 1; i < points.length / 2; i++)
    if (points[2 * i] * dx + points[2 * i + 1] * dy > points[2 * best] * dx + points[2 * best + 1] * dy) best = i;
  return best;
}

/** The farthest point along a direction on the parabola through three neighbours. */
function peak(points: Float64Array, n: number, i: number, dx: number, dy: number): [number, number] {
  const at = (k: number) => 2 * ((i + k + n) % n);
  const along = (k: number) => points[at(k)] * dx + points[at(k) + 1] * dy;
  const [a, b, c] = [along(-1), along(0), along(1)];
  const share = (0.5 * (a - c)) / (a - 2 * b + c);
  const coordinate = (axis: number) => {
    const [p, q, r] = [-1, 0, 1].map((k) => points[at(k) + axis]);
    return q + 0.5 * share * (r - p) + 0.5 * share * share * (p - 2 * q + r);
  };
  return [coordinate(0), coordinate(1)];
}

/** Thickness normal to the chord at a set-back from one of its ends, by straight lines between the points. */
export function thicknessOf(points: Float64Array, ends: Ends, end: 0 | 1, setback: number): number {
  const sign = end === 0 ? 1 : -1;
  const [ox, oy] = ends.at[end];
  const n = points.length / 2;
  const across: number[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [p, q] = [i, j].map(
      (k) => sign * ((points[2 * k] - ox) * ends.dirX + (points[2 * k + 1] - oy) * ends.dirY) - setback,
    );
    if (p < 0 === q < 0) continue;
    const share = p / (p - q);
    const x = points[2 * i] + share * (points[2 * j] - points[2 * i]);
    const y = points[2 * i + 1] + share * (points[2 * j + 1] - points[2 * i + 1]);
    across.push((y - oy) * ends.dirX - (x - ox) * ends.dirY);
  }
  return Math.max(...across) - Math.min(...across);
}

/** Length over which the direction of the polygon is taken (mm), and set-back from which there is no edge any more. */
const STEP = 0.02;
const FLANK = 0.75;
/** Length of arc over which curvature is taken near the nose (mm), and share by which it may fall. */
const ARC = 0.06;
const FALL = 0.1;

/**
 * Returns the largest turn over 20 µm between the edge and a set-back (degrees), and whether the curvature rises from both
 * flanks to the nose.
 */
export function turnsOf(points: Float64Array, ends: Ends, end: 0 | 1, most: number) {
  const n = points.length / 2;
  const sign = end === 0 ? 1 : -1;
  const [ox, oy] = ends.at[end];
  let breakDeg = 0;
  let rises = true;
  for (const way of [1, -1]) {
    const curvatures: number[] = [];
    const walk = (step: number, from: number, to: number, see: (turn: number, length: number) => void) => {
      let last: [number, number] | null = null;
      let before: [number, number] | null = null;
      for (let k = 0, i = ends.index[end]; k < n; k++, i = (i + way + n) % n) {
        const p: [number, number] = [points[2 * i], points[2 * i + 1]];
        const back = sign * ((p[0] - ox) * ends.dirX + (p[1] - oy) * ends.dirY);
        if (back > to) break;
        if (back < from || (last && Math.hypot(p[0] - last[0], p[1] - last[1]) < step)) continue;
        if (last && before) {
          const [ax, ay, bx, by] = [last[0] - before[0], last[1] - before[1], p[0] - last[0], p[1] - last[1]];
          see(way * Math.atan2(ax * by - ay * bx, ax * bx + ay * by), 0.5 * (Math.hypot(ax, ay) + Math.hypot(bx, by)));
        }
        before = last;
        last = p;
      }
    };
    walk(STEP, FLANK, most, (turn) => {
      breakDeg = Math.max(breakDeg, (Math.abs(turn) * 180) / Math.PI);
    });
    walk(ARC, 0, 1, (turn, length) => curvatures.push(turn / length));
    const top = Math.max(...curvatures);
    let least = curvatures[0];
    for (const value of curvatures) {
      if (value > least + FALL * top) rises = false;
      least = Math.min(least, value);
    }
  }
  return { breakDeg, rises };
}

/**
 * Distance of the point that lies outside a place of a blade by `out` from a section polygon at about its height (mm).
 * The place's own height is kept: what a lean of the normal moves it along the span is second order.
 */
export function distanceFromPolygon(points: Float64Array, law: BladeLaw, place: BladePlace, out: number): number {
  const [x, y, , nx, ny] = nominalSurfacePoint(law, place);
  const size = Math.hypot(nx, ny);
  const px = x + (out / size) * (nx / size);
  const py = y + (out / size) * (ny / size);
  let best = Number.POSITIVE_INFINITY;
  const n = points.length / 2;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [ax, ay] = [points[2 * i], points[2 * i + 1]];
    const [dx, dy] = [points[2 * j] - ax, points[2 * j + 1] - ay];
    const share = Math.min(1, Math.max(0, ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy)));
    best = Math.min(best, Math.hypot(px - ax - share * dx, py - ay - share * dy));
  }
  return best;
}
