import type { Mesh } from '../model/shape.ts';

/** One chained cut line of a mesh with a plane. */
export interface SliceLoop {
  /** x0, y0, x1, … (mm); a closed loop does not repeat its first point. */
  points: Float64Array;
  closed: boolean;
}

/**
 * Cuts a mesh with planes z = h and chains the pieces: for each height the closed loops and open lines. Loops run with
 * the material on the left (outer outlines counter-clockwise). One pass over the triangles: each vertex is given the
 * number of planes at or below it, so that a triangle only meets the planes between its vertices; a vertex exactly on a
 * plane counts as above it (a symbolic shift), which keeps every cut edge crossed at one point.
 * @param mesh triangles over shared vertices, counter-clockwise seen from outside
 * @param heights heights of the planes (mm), any order
 */
export function sliceMesh(mesh: Mesh, heights: Float64Array): SliceLoop[][] {
  const { positions, triangles } = mesh;
  const order = [...heights.keys()].sort((a, b) => heights[a] - heights[b]);
  const rising = Float64Array.from(order, (i) => heights[i]);
  const level = vertexLevels(positions, rising);
  const cuts: number[][] = order.map(() => []);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = level[triangles[t]];
    const b = level[triangles[t + 1]];
    const c = level[triangles[t + 2]];
    if (a === b && b === c) continue;
    const low = Math.min(a, b, c);
    const high = Math.max(a, b, c);
    for (let plane = low; plane < high; plane++) cuts[plane].push(t);
  }
  const result: SliceLoop[][] = order.map(() => []);
  cuts.forEach((list, plane) => {
    result[order[plane]] = chainCuts(mesh, list, level, plane, rising[plane]);
  });
  return result;
}

/** Number of planes at or below each vertex; plane p cuts between levels p and p + 1. */
function vertexLevels(positions: Float64Array, rising: Float64Array): Int32Array {
  const count = positions.length / 3;
  const level = new Int32Array(count);
  const planes = rising.length;
  for (let v = 0; v < count; v++) {
    const z = positions[3 * v + 2];
    let low = 0;
    let high = planes;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (rising[middle] <= z) low = middle + 1;
      else high = middle;
    }
    level[v] = low;
  }
  return level;
}

/** Each triangle gives a piece from the edge it enters by to the edge it leaves by; equal edges join the pieces. */
function chainCuts(mesh: Mesh, list: number[], level: Int32Array, plane: number, height: number): SliceLoop[] {
  const { triangles, positions } = mesh;
  const vertices = positions.length / 3;
  const count = list.length;
  const starts = new Float64Array(count);
  const ends = new Float64Array(count);
  const atStart = new Map<number, number>();
  for (let i = 0; i < count; i++) {
    const t = list[i];
    for (let e = 0; e < 3; e++) {
      const p = triangles[t + e];
      const q = triangles[t + ((e + 1) % 3)];
      const pAbove = level[p] > plane;
      const qAbove = level[q] > plane;
      if (pAbove === qAbove) continue;
      const key = p < q ? p * vertices + q : q * vertices + p;
      if (pAbove) starts[i] = key;
      else ends[i] = key;
    }
    if (!atStart.has(starts[i])) atStart.set(starts[i], i);
  }
  const hasBefore = new Uint8Array(count);
  const next = new Int32Array(count).fill(-1);
  for (let i = 0; i < count; i++) {
    const follower = atStart.get(ends[i]);
    if (follower === undefined || hasBefore[follower] === 1) continue;
    next[i] = follower;
    hasBefore[follower] = 1;
  }
  const used = new Uint8Array(count);
  const loops: SliceLoop[] = [];
  for (const closed of [false, true]) {
    for (let i = 0; i < count; i++) {
      if (used[i] === 1 || (!closed && hasBefore[i] === 1)) continue;
      const keys: number[] = [];
      let at = i;
      let last = i;
      while (at >= 0 && used[at] === 0) {
        used[at] = 1;
        keys.push(starts[at]);
        last = at;
        at = next[at];
      }
      if (!closed) keys.push(ends[last]);
      loops.push({ points: crossings(positions, keys, vertices, height, closed), closed });
    }
  }
  return loops.filter((loop) => loop.points.length > 2);
}

/** Points where the edges cross the plane; repeats, from edges that meet at a vertex on the plane, are dropped. */
function crossings(
  positions: Float64Array,
  keys: number[],
  vertices: number,
  height: number,
  closed: boolean,
): Float64Array {
  const points = new Float64Array(2 * keys.length);
  let fill = 0;
  for (const key of keys) {
    const p = Math.floor(key / vertices);
    const q = key - p * vertices;
    const zp = positions[3 * p + 2];
    const zq = positions[3 * q + 2];
    const f = (height - zp) / (zq - zp);
    const x = f === 1 ? positions[3 * q] : positions[3 * p] + f * (positions[3 * q] - positions[3 * p]);
    const y = f === 1 ? positions[3 * q + 1] : positions[3 * p + 1] + f * (positions[3 * q + 1] - positions[3 * p + 1]);
    if (fill > 0 && points[fill - 2] === x && points[fill - 1] === y) continue;
    points[fill++] = x;
    points[fill++] = y;
  }
  if (closed && fill > 2 && points[0] === points[fill - 2] && points[1] === points[fill - 1]) fill -= 2;
  return points.slice(0, fill);
}
