import type { Outline } from '../model/outline.ts';

/** Cubic Hermite data of a closed curve at rising parameters; corner nodes carry two slopes. */
export interface HermiteLoop {
  /** Node parameters over one period, rising. */
  at: Float64Array;
  period: number;
  /** Points x0, y0, x1, … */
  points: Float64Array;
  /** Slopes leaving each node and arriving at it, same layout; equal but at corners. */
  leaving: Float64Array;
  arriving: Float64Array;
  /** Node indices of the corners, rising. */
  corners: readonly number[];
}

/**
 * Returns the outline that equals the given C2 Hermite pieces (C0 at the corners). Control points are blossoms of the
 * pieces at three neighbouring knots (Ramshaw, CAGD 6, 1989).
 */
export function outlineFromHermite(loop: HermiteLoop): Outline {
  const { at, period, points, leaving, arriving, corners } = loop;
  const count = at.length;
  const isCorner = new Uint8Array(count);
  for (const corner of corners) isCorner[corner] = 1;
  const size = count + 2 * corners.length;
  const knots = new Float64Array(size);
  const node = new Int32Array(size);
  let fill = 0;
  for (let i = 0; i < count; i++) {
    for (let copy = isCorner[i] ? 3 : 1; copy > 0; copy--) {
      node[fill] = i;
      knots[fill++] = at[i];
    }
  }
  const knot = (i: number) => knots[i % size] + period * Math.floor(i / size);
  const control = [new Float64Array(size), new Float64Array(size)];
  for (let i = 0; i < size; i++) {
    const a = knot(i + 1);
    const b = knot(i + 2);
    const c = knot(i + 3);
    const from = b > a ? i + 1 : i + 2;
    const start = node[from % size];
    const end = (start + 1) % count;
    const base = knot(from);
    const h = at[end] + (end === 0 ? period : 0) - at[start];
    for (let axis = 0; axis < 2; axis++) {
      const p = points[2 * start + axis];
      if (c === a) {
        control[axis][i] = p;
        continue;
      }
      const delta = (points[2 * end + axis] - p) / h;
      const slope = leaving[2 * start + axis];
      const last = arriving[2 * end + axis];
      const square = (3 * delta - 2 * slope - last) / h;
      const cube = (slope + last - 2 * delta) / (h * h);
      const u = a - base;
      const v = b - base;
      const w = c - base;
      control[axis][i] = p + (slope * (u + v + w)) / 3 + (square * (u * v + u * w + v * w)) / 3 + cube * u * v * w;
    }
  }
  return {
    degree: 3,
    period,
    knots,
    controlX: control[0],
    controlY: control[1],
    corners: Float64Array.from(corners, (corner) => at[corner]),
  };
}
