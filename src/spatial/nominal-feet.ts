import { type ClosestTriangles, closestTriangles } from './closest-triangle.ts';
import type { NominalTarget } from './nominal-target.ts';
import { FOOT_NONE, FOOT_SIZE, footOnSurface, footScratch } from './surface-foot.ts';

/** Feet of many points on the nominal surface; arrays run parallel to the points. */
export interface Feet {
  u: Float64Array;
  height: Float64Array;
  /** Signed distance (mm, positive outside); NaN where none was found within the distance asked for. */
  deviation: Float64Array;
  /** Unit outward normal of the nominal at the foot, x0, y0, z0, … */
  normal: Float64Array;
  /** 0: the normal meets the point; 1: foot at an end of the span; 2: none found. */
  border: Uint8Array;
}

/** Returns empty feet for `count` points. */
export function emptyFeet(count: number, shared = false): Feet {
  const doubles = (n: number): Float64Array =>
    shared ? new Float64Array(new SharedArrayBuffer(n * 8)) : new Float64Array(n);
  return {
    u: doubles(count),
    height: doubles(count),
    deviation: doubles(count),
    normal: doubles(count * 3),
    border: shared ? new Uint8Array(new SharedArrayBuffer(count)) : new Uint8Array(count),
  };
}

const BLOCK = 4096;

/**
 * Writes the exact feet on the smooth nominal of the points `order[from … to)` (or `from … to` without an order): the
 * nearest triangle of the tessellation gives the guess, Newton's method the foot.
 * @param points x0, y0, z0, … in the nominal's frame (mm)
 * @param maxDistance points farther from the tessellation get kind 2 and NaN
 */
export function nominalFeet(
  target: NominalTarget,
  points: Float64Array,
  order: Uint32Array | null,
  from: number,
  to: number,
  feet: Feet,
  maxDistance = Infinity,
): void {
  const { surface, mesh, vertexU, vertexHeight, tree } = target;
  const { triangles, positions } = mesh;
  const block = Math.min(BLOCK, to - from);
  const local = new Float64Array(block * 3);
  const nearest: ClosestTriangles = {
    triangle: new Int32Array(block),
    distance: new Float64Array(block),
    point: new Float64Array(block * 3),
  };
  const scratch = footScratch();
  const foot = new Float64Array(FOOT_SIZE);
  for (let start = from; start < to; start += block) {
    const count = Math.min(block, to - start);
    for (let k = 0; k < count; k++) {
      const i = (order ? order[start + k] : start + k) * 3;
      local[k * 3] = points[i];
      local[k * 3 + 1] = points[i + 1];
      local[k * 3 + 2] = points[i + 2];
    }
    closestTriangles(tree, local, null, 0, count, nearest, maxDistance);
    for (let k = 0; k < count; k++) {
      const i = order ? order[start + k] : start + k;
      const triangle = nearest.triangle[k];
      if (triangle < 0) {
        feet.border[i] = FOOT_NONE;
        feet.deviation[i] = NaN;
        feet.u[i] = NaN;
        feet.height[i] = NaN;
        continue;
      }
      const a = triangles[triangle * 3];
      const b = triangles[triangle * 3 + 1];
      const c = triangles[triangle * 3 + 2];
      const ax = positions[a * 3];
      const ay = positions[a * 3 + 1];
      const az = positions[a * 3 + 2];
      const e1x = positions[b * 3] - ax;
      const e1y = positions[b * 3 + 1] - ay;
      const e1z = positions[b * 3 + 2] - az;
      const e2x = positions[c * 3] - ax;
      const e2y = positions[c * 3 + 1] - ay;
      const e2z = positions[c * 3 + 2] - az;
      const qx = nearest.point[k * 3] - ax;
      const qy = nearest.point[k * 3 + 1] - ay;
      const qz = nearest.point[k * 3 + 2] - az;
      const d11 = e1x * e1x + e1y * e1y + e1z * e1z;
      const d12 = e1x * e2x + e1y * e2y + e1z * e2z;
      const d22 = e2x * e2x + e2y * e2y + e2z * e2z;
      const d1 = qx * e1x + qy * e1y + qz * e1z;
      const d2 = qx * e2x + qy * e2y + qz * e2z;
      const det = d11 * d22 - d12 * d12;
      const v = det > 0 ? (d22 * d1 - d12 * d2) / det : 0;
      const w = det > 0 ? (d11 * d2 - d12 * d1) / det : 0;
      const u0 = vertexU[a] + v * (vertexU[b] - vertexU[a]) + w * (vertexU[c] - vertexU[a]);
      const z0 = vertexHeight[a] + v * (vertexHeight[b] - vertexHeight[a]) + w * (vertexHeight[c] - vertexHeight[a]);
      footOnSurface(surface, local[k * 3], local[k * 3 + 1], local[k * 3 + 2], u0, z0, scratch, foot);
      writeFoot(feet, i, foot);
    }
  }
}

/**
 * Brings feet up to date after the points have moved a little: Newton's method from the feet of before, without a
 * search. Points without a foot stay without one.
 */
export function followFeet(target: NominalTarget, points: Float64Array, from: number, to: number, feet: Feet): void {
  const scratch = footScratch();
  const foot = new Float64Array(FOOT_SIZE);
  for (let i = from; i < to; i++) {
    if (feet.border[i] === FOOT_NONE) continue;
    const { u, height } = feet;
    footOnSurface(target.surface, points[3 * i], points[3 * i + 1], points[3 * i + 2], u[i], height[i], scratch, foot);
    writeFoot(feet, i, foot);
  }
}

function writeFoot(feet: Feet, i: number, foot: Float64Array): void {
  feet.u[i] = foot[0];
  feet.height[i] = foot[1];
  feet.deviation[i] = foot[2];
  feet.normal[i * 3] = foot[3];
  feet.normal[i * 3 + 1] = foot[4];
  feet.normal[i * 3 + 2] = foot[5];
  feet.border[i] = foot[6];
}
