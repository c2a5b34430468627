import type { Mesh } from '../model/shape.ts';

/**
 * Returns points spread over a mesh: its vertices, and inside triangles with a side longer than `spacing` the middles of
 * an even division into triangles of at most that side, so that a coarse mesh leaves no place unmeasured.
 * @param spacing largest distance wanted between neighbours (mm)
 * @returns x0, y0, z0, … (mm)
 */
export function meshPoints(mesh: Mesh, spacing: number): Float64Array {
  const { positions, triangles } = mesh;
  const parts = new Uint32Array(triangles.length / 3);
  let extra = 0;
  for (let t = 0; t < parts.length; t++) {
    parts[t] = Math.ceil(Math.sqrt(longestSquared(positions, triangles, 3 * t)) / spacing);
    if (parts[t] > 1) extra += parts[t] * parts[t];
  }
  const out = new Float64Array(positions.length + 3 * extra);
  out.set(positions);
  let at = positions.length;
  for (let t = 0; t < parts.length; t++) {
    const n = parts[t];
    if (n <= 1) continue;
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    for (let i = 0; i < n; i++)
      for (let j = 0; i + j < n; j++) {
        at = put(out, at, positions, a, b, c, (i + 1 / 3) / n, (j + 1 / 3) / n);
        if (i + j < n - 1) at = put(out, at, positions, a, b, c, (i + 2 / 3) / n, (j + 2 / 3) / n);
      }
  }
  return out;
}

function put(
  out: Float64Array,
  at: number,
  positions: Float64Array,
  a: number,
  b: number,
  c: number,
  s: number,
  t: number,
): number {
  for (let k = 0; k < 3; k++)
    out[at + k] = (1 - s - t) * positions[a + k] + s * positions[b + k] + t * positions[c + k];
  return at + 3;
}

function longestSquared(positions: Float64Array, triangles: Uint32Array, t: number): number {
  let longest = 0;
  for (let e = 0; e < 3; e++) {
    const [a, b] = [3 * triangles[t + e], 3 * triangles[t + ((e + 1) % 3)]];
    const [x, y, z] = [0, 1, 2].map((k) => positions[a + k] - positions[b + k]);
    longest = Math.max(longest, x * x + y * y + z * z);
  }
  return longest;
}
