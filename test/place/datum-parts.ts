import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { invertPose, movePoints, rotationExp } from '../../src/math/rigid.ts';
import { cross3, dot3, subtract3, unit3, type Vec3 } from '../../src/math/vec3.ts';
import type { PlanDatumTarget } from '../../src/model/plan.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { Cloud, Mesh } from '../../src/model/shape.ts';

export function target(id: string, point: Vec3, normal: Vec3, more: Partial<PlanDatumTarget> = {}): PlanDatumTarget {
  return { id, point, normal, ...more };
}

/** A box from `low` to `high` as twelve outward triangles (mm). */
export function boxMesh(low: Vec3, high: Vec3): Mesh {
  const positions = new Float64Array(24);
  for (let k = 0; k < 8; k++)
    for (let axis = 0; axis < 3; axis++) positions[3 * k + axis] = (k >> axis) & 1 ? high[axis] : low[axis];
  const faces = [
    [0, 4, 6, 2],
    [1, 3, 7, 5],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 2, 3, 1],
    [4, 5, 7, 6],
  ];
  const triangles = Uint32Array.from(faces.flatMap(([a, b, c, d]) => [a, b, c, a, c, d]));
  return { kind: 'mesh', positions, triangles };
}

/** The part as it would be measured when `pose` brings it back. */
export function movedAway<T extends Mesh | Cloud>(shape: T, pose: Pose): T {
  return { ...shape, positions: movePoints(invertPose(pose), shape.positions) };
}

/** A motion of a turn (degrees) and a shift (mm). */
export function motion(turnDeg: Vec3, shift: Vec3): Pose {
  const rad = Math.PI / 180;
  return {
    rotation: rotationExp([turnDeg[0] * rad, turnDeg[1] * rad, turnDeg[2] * rad]),
    translation: Float64Array.from(shift),
  };
}

/** Centre and normal of the triangle that faces `normal` and lies nearest to a point. */
export function facetNear({ positions, triangles }: Mesh, near: Vec3, normal: Vec3): { point: Vec3; normal: Vec3 } {
  let best = Infinity;
  let found: { point: Vec3; normal: Vec3 } | null = null;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => [
      ...positions.subarray(3 * triangles[t + k], 3 * triangles[t + k] + 3),
    ]) as Vec3[];
    const outward = unit3(cross3(subtract3(b, a), subtract3(c, a)));
    if (dot3(outward, normal) < 0.7) continue;
    const point = [0, 1, 2].map((i) => (a[i] + b[i] + c[i]) / 3) as Vec3;
    const off = subtract3(point, near);
    if (dot3(off, off) < best) {
      best = dot3(off, off);
      found = { point, normal: outward };
    }
  }
  return found!;
}

/** Points spread evenly over a mesh's triangles by area, with normal noise along the triangle's normal. */
export function scatter({ positions, triangles }: Mesh, count: number, noise: number, seed: number): Cloud {
  const uniform = seededRandom(seed);
  const normal = normalFrom(uniform);
  const areas = new Float64Array(triangles.length / 3);
  const corner = (t: number, k: number): Vec3 => {
    const i = 3 * triangles[3 * t + k];
    return [positions[i], positions[i + 1], positions[i + 2]];
  };
  let total = 0;
  for (let t = 0; t < areas.length; t++) {
    const [a, b, c] = [corner(t, 0), corner(t, 1), corner(t, 2)];
    total += 0.5 * Math.hypot(...cross3(subtract3(b, a), subtract3(c, a)));
    areas[t] = total;
  }
  const out = new Float64Array(3 * count);
  let t = 0;
  for (let k = 0; k < count; k++) {
    const wanted = ((k + uniform()) / count) * total;
    while (areas[t] < wanted) t++;
    const [a, b, c] = [corner(t, 0), corner(t, 1), corner(t, 2)];
    const [ab, ac] = [subtract3(b, a), subtract3(c, a)];
    const n = unit3(cross3(ab, ac));
    let [u, v] = [uniform(), uniform()];
    if (u + v > 1) [u, v] = [1 - u, 1 - v];
    const off = noise * normal();
    for (let i = 0; i < 3; i++) out[3 * k + i] = a[i] + u * ab[i] + v * ac[i] + off * n[i];
  }
  return { kind: 'cloud', positions: out };
}
