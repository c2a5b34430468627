import type { ClosestTriangles } from './closest-triangle.ts';
import { BLOCK_SIZE } from './triangle-blocks.ts';
import type { TriangleTree } from './triangle-tree.ts';

/**
 * Writes the foot of a point on one triangle of the tree and its signed distance into place `i` of `out`. On the face
 * the distance is that to the plane; on an edge or corner it is the length to the foot with the sign of the
 * pseudo-normal there.
 *
 * @param k triangle in the order of the tree.
 */
export function writeSignedFoot(
  tree: TriangleTree,
  k: number,
  x: number,
  y: number,
  z: number,
  i: number,
  out: ClosestTriangles,
): void {
  const { blocks, corners, edges } = tree;
  const b = BLOCK_SIZE * k;
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
  const vc = uu * d2 - uv * d1;
  const vb = vv * d1 - uv * d2;
  // Coordinates of the foot along the two edges, and where it lies.
  let s = 0;
  let t = 0;
  let normals = tree.vertexNormals;
  let feature = -1;
  if (d1 <= 0 && d2 <= 0) {
    feature = corners[3 * k];
  } else if (d1 - uu >= 0 && d2 - uv <= d1 - uu) {
    s = 1;
    feature = corners[3 * k + 1];
  } else if (d2 - vv >= 0 && d1 - uv <= d2 - vv) {
    t = 1;
    feature = corners[3 * k + 2];
  } else if (vc <= 0 && d1 >= 0 && d1 - uu <= 0) {
    s = d1 / uu;
    normals = tree.edgeNormals;
    feature = edges[3 * k];
  } else if (vb <= 0 && d2 >= 0 && d2 - vv <= 0) {
    t = d2 / vv;
    normals = tree.edgeNormals;
    feature = edges[3 * k + 1];
  } else {
    const towards = d2 - uv - (d1 - uu);
    const back = d1 - uv - (d2 - vv);
    if (uu * vv - uv * uv - vb - vc <= 0 && towards >= 0 && back >= 0) {
      t = towards / (towards + back);
      s = 1 - t;
      normals = tree.edgeNormals;
      feature = edges[3 * k + 2];
    }
  }
  let gx: number;
  let gy: number;
  let gz: number;
  if (feature < 0) {
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const square = nx * nx + ny * ny + nz * nz;
    const height = nx * ax + ny * ay + nz * az;
    const h = height / square;
    gx = nx * h;
    gy = ny * h;
    gz = nz * h;
    out.distance[i] = height / Math.sqrt(square);
  } else {
    gx = ax - s * ux - t * vx;
    gy = ay - s * uy - t * vy;
    gz = az - s * uz - t * vz;
    const f = 3 * feature;
    const side = gx * normals[f] + gy * normals[f + 1] + gz * normals[f + 2];
    const length = Math.sqrt(gx * gx + gy * gy + gz * gz);
    out.distance[i] = side < 0 ? -length : length;
  }
  out.triangle[i] = tree.ids[k];
  if (out.point.length > 0) {
    out.point[3 * i] = x - gx;
    out.point[3 * i + 1] = y - gy;
    out.point[3 * i + 2] = z - gz;
  }
}
