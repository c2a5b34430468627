import type { Mesh } from '../model/shape.ts';

/**
 * Returns a mesh as binary STL: single-precision corners in mm, facet normals from the corners.
 *
 * @param title up to 80 ASCII characters for the header; must not begin with `solid`
 */
export function writeStl(mesh: Mesh, title = 'units: mm'): Uint8Array {
  const { positions, triangles } = mesh;
  const count = triangles.length / 3;
  const bytes = new Uint8Array(84 + 50 * count);
  const view = new DataView(bytes.buffer);
  bytes.set(new TextEncoder().encode(title).subarray(0, 80));
  view.setUint32(80, count, true);
  for (let t = 0; t < count; t++) {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const normal = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const length = Math.hypot(normal[0], normal[1], normal[2]) || 1;
    const at = 84 + 50 * t;
    for (let k = 0; k < 3; k++) {
      view.setFloat32(at + 4 * k, normal[k] / length, true);
      view.setFloat32(at + 12 + 4 * k, positions[a + k], true);
      view.setFloat32(at + 24 + 4 * k, positions[b + k], true);
      view.setFloat32(at + 36 + 4 * k, positions[c + k], true);
    }
  }
  return bytes;
}
