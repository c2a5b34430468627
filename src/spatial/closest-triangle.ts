import { writeSignedFoot } from './signed-foot.ts';
import { NODE_SIZE } from './triangle-partition.ts';
import type { TriangleTree } from './triangle-tree.ts';

/** Closest points of a mesh, one a query point. */
export interface ClosestTriangles {
  /** Number of the triangle in the mesh; −1 when none lies within the greatest distance asked for. */
  triangle: Int32Array;
  /** Signed distance (mm), + outside; +Infinity where there is no triangle. */
  distance: Float64Array;
  /** Foot x0, y0, z0, x1, … (mm); NaN where there is no triangle. Length 0: feet are not wanted. */
  point: Float64Array;
}

/** Returns room for the closest triangles of `count` points, on shared memory if asked for. */
export function emptyClosest(count: number, wantPoints = true, shared = false): ClosestTriangles {
  const room = (bytes: number) => (shared ? new SharedArrayBuffer(bytes) : new ArrayBuffer(bytes));
  return {
    triangle: new Int32Array(room(4 * count)),
    distance: new Float64Array(room(8 * count)),
    point: new Float64Array(room(wantPoints ? 24 * count : 0)),
  };
}

/**
 * Finds the closest point of the mesh for the points of a range, exactly and in double precision, by descent of the box
 * hierarchy, nearer child first. Of triangles at equal distance the one with the lowest number is taken. Points that
 * are not finite have no triangle. Each answer depends on its point alone, so any split of the work gives the same bits.
 *
 * @param points x0, y0, z0, x1, … (mm).
 * @param order permutation to visit the points by (see `mortonOrder`; neighbours in turn are about three times
 *   faster), or null.
 * @param from first place of the range in the order.
 * @param to place after the last.
 * @param out results, written at the points' own places.
 * @param maxDistance points farther from the mesh get triangle −1 (mm).
 */
export function closestTriangles(
  tree: TriangleTree,
  points: Float64Array,
  order: Uint32Array | null,
  from: number,
  to: number,
  out: ClosestTriangles,
  maxDistance = Infinity,
): void {
  const size = Math.max(0, Math.min(BLOCK, to - from));
  const local = new Float64Array(3 * size);
  const found = new Int32Array(size);
  const feet = emptyClosest(size);
  const scratch: Descent = { stack: new Int32Array(tree.depth + 2), reach: new Float64Array(tree.depth + 2) };
  for (let first = from; first < to; first += size) {
    const count = Math.min(size, to - first);
    for (let k = 0; k < count; k++) {
      const i = 3 * (order === null ? first + k : order[first + k]);
      local[3 * k] = points[i];
      local[3 * k + 1] = points[i + 1];
      local[3 * k + 2] = points[i + 2];
    }
    descend(tree, local, count, maxDistance, scratch, found);
    for (let k = 0; k < count; k++) {
      if (found[k] < 0) {
        feet.triangle[k] = -1;
        feet.distance[k] = Infinity;
        feet.point.fill(NaN, 3 * k, 3 * k + 3);
      } else {
        writeSignedFoot(tree, found[k], local[3 * k], local[3 * k + 1], local[3 * k + 2], k, feet);
      }
    }
    const { triangle, distance, point } = feet;
    for (let k = 0; k < count; k++) {
      const i = order === null ? first + k : order[first + k];
      out.triangle[i] = triangle[k];
      out.distance[i] = distance[k];
    }
    if (out.point.length === 0) continue;
    for (let k = 0; k < count; k++) {
      const i = 3 * (order === null ? first + k : order[first + k]);
      out.point[i] = point[3 * k];
      out.point[i + 1] = point[3 * k + 1];
      out.point[i + 2] = point[3 * k + 2];
    }
  }
}

/** Points gathered at a time, so that the misses of a random read overlap. */
const BLOCK = 1024;

/** Nodes put aside on the way down, and the squares of their distances. */
interface Descent {
  stack: Int32Array;
  reach: Float64Array;
}

/** Writes the tree's number of the closest triangle of each point, or −1. */
function descend(
  tree: TriangleTree,
  points: Float64Array,
  count: number,
  maxDistance: number,
  scratch: Descent,
  out: Int32Array,
): void {
  const { nodes, links, blocks, ids } = tree;
  const { stack, reach } = scratch;
  for (let i = 0; i < count; i++) {
    const x = points[3 * i];
    const y = points[3 * i + 1];
    const z = points[3 * i + 2];
    let best = maxDistance * maxDistance;
    let found = -1;
    let foundId = -1;
    let top = 0;
    let link = 0;
    for (;;) {
      if (link >= 0) {
        // Squares of twice the distances to both child boxes; d + |d| is twice the positive part without a branch.
        const at = NODE_SIZE * link;
        let dx = Math.abs(x - nodes[at]) - nodes[at + 3];
        let dy = Math.abs(y - nodes[at + 1]) - nodes[at + 4];
        let dz = Math.abs(z - nodes[at + 2]) - nodes[at + 5];
        dx += Math.abs(dx);
        dy += Math.abs(dy);
        dz += Math.abs(dz);
        const first = 0.25 * (dx * dx + dy * dy + dz * dz);
        dx = Math.abs(x - nodes[at + 6]) - nodes[at + 9];
        dy = Math.abs(y - nodes[at + 7]) - nodes[at + 10];
        dz = Math.abs(z - nodes[at + 8]) - nodes[at + 11];
        dx += Math.abs(dx);
        dy += Math.abs(dy);
        dz += Math.abs(dz);
        const second = 0.25 * (dx * dx + dy * dy + dz * dz);
        if (first <= second) {
          if (first <= best) {
            link = links[at + 12];
            if (second <= best) {
              stack[top] = links[at + 13];
              reach[top++] = second;
            }
            continue;
          }
        } else if (second <= best) {
          link = links[at + 13];
          if (first <= best) {
            stack[top] = links[at + 12];
            reach[top++] = first;
          }
          continue;
        }
      } else {
        const leaf = -link - 1;
        let k = leaf >> 3;
        const end = k + (leaf & 7);
        for (; k < end; k++) {
          const b = 12 * k;
          const ax = x - blocks[b];
          const ay = y - blocks[b + 1];
          const az = z - blocks[b + 2];
          const ux = blocks[b + 3];
          const uy = blocks[b + 4];
          const uz = blocks[b + 5];
          const vx = blocks[b + 6];
          const vy = blocks[b + 7];
          const vz = blocks[b + 8];
          const uu = blocks[b + 9];
          const uv = blocks[b + 10];
          const vv = blocks[b + 11];
          const d1 = ux * ax + uy * ay + uz * az;
          const d2 = vx * ax + vy * ay + vz * az;
          let s = 0;
          let t = 0;
          if (d1 > 0 || d2 > 0) {
            const d3 = d1 - uu;
            const d4 = d2 - uv;
            const d5 = d1 - uv;
            const d6 = d2 - vv;
            if (d3 >= 0 && d4 <= d3) s = 1;
            else if (d6 >= 0 && d5 <= d6) t = 1;
            else {
              const vc = uu * d2 - uv * d1;
              const vb = vv * d1 - uv * d2;
              if (vc <= 0 && d1 >= 0 && d3 <= 0) s = d1 / uu;
              else if (vb <= 0 && d2 >= 0 && d6 <= 0) t = d2 / vv;
              else {
                const det = uu * vv - uv * uv;
                if (det - vb - vc <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
                  t = (d4 - d3) / (d4 - d3 + d5 - d6);
                  s = 1 - t;
                } else {
                  s = vb / det;
                  t = vc / det;
                }
              }
            }
          }
          const gx = ax - s * ux - t * vx;
          const gy = ay - s * uy - t * vy;
          const gz = az - s * uz - t * vz;
          const square = gx * gx + gy * gy + gz * gz;
          if (square <= best && (square < best || found < 0 || ids[k] < foundId)) {
            best = square;
            found = k;
            foundId = ids[k];
          }
        }
      }
      do top--;
      while (top >= 0 && !(reach[top] <= best));
      if (top < 0) break;
      link = stack[top];
    }
    out[i] = found;
  }
}
