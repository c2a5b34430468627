/** A pass goes all the way round when its ends are nearer one another than this share of its length. */
const ROUND_SHARE = 0.3;
/** Two passes follow one path when their boxes agree within this share of the box's diagonal. */
const BOX_SHARE = 0.03;
/** Shares of the whole length between which the second pass of an unmarked scan begins. */
const MIDDLE = [0.35, 0.65];
const LEAST_POINTS = 8;

interface Stretch {
  from: number;
  to: number;
}

/**
 * Returns where the passes of a section begin, 0 first: at the given breaks, or where an unmarked scan comes back to its
 * start halfway, when each part goes all the way round the same path. One pass gives [0].
 * @param points x0, y0, x1, …
 * @param breaks indices of points at which the file comes back to this section after others
 */
export function passStarts(points: Float64Array, breaks: readonly number[]): number[] {
  const count = points.length / 2;
  const starts = breaks.length > 0 ? [0, ...breaks] : [0, halfway(points)];
  const parts = starts.map((from, k): Stretch => ({ from, to: starts[k + 1] ?? count }));
  const sound = parts.length > 1 && parts.every((part) => goesRound(points, part) && samePath(points, parts[0], part));
  return sound ? starts : [0];
}

function step(points: Float64Array, i: number, j: number): number {
  return Math.hypot(points[2 * i] - points[2 * j], points[2 * i + 1] - points[2 * j + 1]);
}

/** The point nearest the first one about the middle of the way. */
function halfway(points: Float64Array): number {
  const count = points.length / 2;
  const along = new Float64Array(count);
  for (let i = 1; i < count; i++) along[i] = along[i - 1] + step(points, i, i - 1);
  const whole = along[count - 1];
  let best = -1;
  for (let i = 1; i < count; i++) {
    if (along[i] < MIDDLE[0] * whole || along[i] > MIDDLE[1] * whole) continue;
    if (best < 0 || step(points, i, 0) < step(points, best, 0)) best = i;
  }
  return Math.max(best, 1);
}

function goesRound(points: Float64Array, { from, to }: Stretch): boolean {
  if (to - from < LEAST_POINTS) return false;
  let length = 0;
  for (let i = from + 1; i < to; i++) length += step(points, i, i - 1);
  return step(points, from, to - 1) < ROUND_SHARE * length;
}

function samePath(points: Float64Array, a: Stretch, b: Stretch): boolean {
  const [one, other] = [boxOf(points, a), boxOf(points, b)];
  const allowed = BOX_SHARE * Math.hypot(one[1] - one[0], one[3] - one[2]);
  return one.every((value, k) => Math.abs(value - other[k]) <= allowed);
}

function boxOf(points: Float64Array, { from, to }: Stretch): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = from; i < to; i++) {
    box[0] = Math.min(box[0], points[2 * i]);
    box[1] = Math.max(box[1], points[2 * i]);
    box[2] = Math.min(box[2], points[2 * i + 1]);
    box[3] = Math.max(box[3], points[2 * i + 1]);
  }
  return box;
}
