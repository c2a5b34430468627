import { normalFrom, seededRandom } from '../../src/math/random.ts';

/** Returns points moved along the polygon's normals by seeded normal noise. */
export function withNormalNoise(points: Float64Array, sigma: number, seed: number): Float64Array {
  const normal = normalFrom(seededRandom(seed));
  const count = points.length >> 1;
  const moved = points.slice();
  for (let i = 0; i < count; i++) {
    const a = (i + count - 1) % count;
    const b = (i + 1) % count;
    const tx = points[2 * b] - points[2 * a];
    const ty = points[2 * b + 1] - points[2 * a + 1];
    const length = Math.hypot(tx, ty) || 1;
    const step = sigma * normal();
    moved[2 * i] += (step * ty) / length;
    moved[2 * i + 1] -= (step * tx) / length;
  }
  return moved;
}

/** Returns points turned by `angle` (rad) about the origin, then shifted. */
export function movedPoints(points: Float64Array, angle: number, dx: number, dy: number): Float64Array {
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 2) {
    out[i] = Math.cos(angle) * points[i] - Math.sin(angle) * points[i + 1] + dx;
    out[i + 1] = Math.sin(angle) * points[i] + Math.cos(angle) * points[i + 1] + dy;
  }
  return out;
}

/** Returns closed points started `shift` points later. */
export function rotatedStart(points: Float64Array, shift: number): Float64Array {
  const size = points.length;
  return points.map((_, i) => points[(i + 2 * shift) % size]);
}

/** Returns points in the opposite order. */
export function reversedPoints(points: Float64Array): Float64Array {
  const size = points.length;
  return points.map((_, i) => points[size - 2 - (i & ~1) + (i & 1)]);
}
