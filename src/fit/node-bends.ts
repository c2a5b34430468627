/** Curvature along an outline as steps: constant between rising arc lengths. */
export interface Bends {
  /** Ends of the steps (mm), one more than there are steps; from 0 to the perimeter. */
  length: Float64Array;
  /** Absolute curvature of each step (1/mm). */
  curvature: Float64Array;
}

/** Half widths tried, in nodes. */
const SCALES = [1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64];
/** A turn counts beyond this many of its standard deviations. */
const SURE = 3;
/** Widest window, as a share of the perimeter. */
const WIDEST = 1 / 8;

/**
 * Returns the curvature at the nodes that noise cannot have made: the turn between the chords to both sides, less three
 * of its standard deviations, by its length; the largest over windows of many widths. Windows do not reach over corners.
 * @param nodes x0, y0, x1, … (mm), closed order
 * @param at arc length of each node (mm), rising, within one perimeter from the first
 * @param noise standard deviation of each node (mm)
 * @param corners indices of the corner nodes, rising
 */
export function nodeCurvature(
  nodes: Float64Array,
  at: Float64Array,
  noise: Float64Array,
  perimeter: number,
  corners: readonly number[],
): Float64Array {
  const count = at.length;
  const curvature = new Float64Array(count);
  const room = roomToCorners(count, corners);
  for (let i = 0; i < count; i++) {
    for (const k of SCALES) {
      if (k > room[i] || 2 * k >= count) break;
      const a = (i - k + count) % count;
      const b = (i + k) % count;
      const ux = nodes[2 * i] - nodes[2 * a];
      const uy = nodes[2 * i + 1] - nodes[2 * a + 1];
      const vx = nodes[2 * b] - nodes[2 * i];
      const vy = nodes[2 * b + 1] - nodes[2 * i + 1];
      const before = 1 / (Math.hypot(ux, uy) || 1e-300);
      const after = 1 / (Math.hypot(vx, vy) || 1e-300);
      const window = at[b] - at[a] + (b < a ? perimeter : 0);
      if (window > WIDEST * perimeter) break;
      const sd = Math.hypot(noise[a] * before, noise[i] * (before + after), noise[b] * after);
      const turn = Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) - SURE * sd;
      curvature[i] = Math.max(curvature[i], (2 * turn) / window);
    }
  }
  return curvature;
}

/** Nodes to the nearer corner on either side; plenty where there is no corner. */
function roomToCorners(count: number, corners: readonly number[]): Float64Array {
  const room = new Float64Array(count).fill(count);
  for (const corner of corners) {
    for (let i = 0; i < count; i++) {
      const apart = Math.abs(i - corner);
      room[i] = Math.min(room[i], apart, count - apart);
    }
  }
  return room;
}

/**
 * Returns the steps of curvature of nodes: each reaches towards its neighbours in proportion to the nodes' own lengths.
 * @param at arc length of each node (mm), rising from 0
 * @param own length of the stretch each node stands for (mm)
 */
export function nodeBends(curvature: Float64Array, at: Float64Array, own: Float64Array, perimeter: number): Bends {
  const count = at.length;
  const length = new Float64Array(count + 2);
  const steps = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) {
    const next = i + 1 < count ? i + 1 : 0;
    const gap = (next === 0 ? perimeter : at[next]) - at[i];
    length[i + 1] = at[i] + (gap * own[i]) / (own[i] + own[next] || 1);
    steps[i] = curvature[i];
  }
  steps[count] = curvature[0];
  length[count + 1] = perimeter;
  return { length, curvature: steps };
}
