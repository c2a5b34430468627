import type { Pose } from '../model/pose.ts';
import { unit3, type Vec3 } from './vec3.ts';

/** The pose that moves nothing. */
export function identityPose(): Pose {
  return { rotation: Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1), translation: new Float64Array(3) };
}

/** Product A·B of two row-major 3 × 3 matrices. */
export function multiply3(a: ArrayLike<number>, b: ArrayLike<number>): Float64Array {
  const out = new Float64Array(9);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) out[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
  return out;
}

export function transpose3(a: ArrayLike<number>): Float64Array {
  return Float64Array.of(a[0], a[3], a[6], a[1], a[4], a[7], a[2], a[5], a[8]);
}

export function determinant3(a: ArrayLike<number>): number {
  return a[0] * (a[4] * a[8] - a[5] * a[7]) - a[1] * (a[3] * a[8] - a[5] * a[6]) + a[2] * (a[3] * a[7] - a[4] * a[6]);
}

/** Product of a row-major 3 × 3 matrix and a vector. */
export function apply3(a: ArrayLike<number>, p: ArrayLike<number>): Vec3 {
  return [
    a[0] * p[0] + a[1] * p[1] + a[2] * p[2],
    a[3] * p[0] + a[4] * p[1] + a[5] * p[2],
    a[6] * p[0] + a[7] * p[1] + a[8] * p[2],
  ];
}

/** Rotation of a rotation vector (axis times angle in rad): the exponential map, Rodrigues' formula. */
export function rotationExp(w: ArrayLike<number>): Float64Array {
  const angle = Math.hypot(w[0], w[1], w[2]);
  const s = angle < 1e-4 ? 1 - (angle * angle) / 6 : Math.sin(angle) / angle;
  const half = angle < 1e-4 ? 0.5 - (angle * angle) / 48 : Math.sin(angle / 2) / angle;
  const c = 2 * half * half;
  const [x, y, z] = [w[0], w[1], w[2]];
  return Float64Array.of(
    1 - c * (y * y + z * z),
    c * x * y - s * z,
    c * x * z + s * y,
    c * x * y + s * z,
    1 - c * (x * x + z * z),
    c * y * z - s * x,
    c * x * z - s * y,
    c * y * z + s * x,
    1 - c * (x * x + y * y),
  );
}

/** Rotation vector of a rotation, |w| ≤ π; inverse of {@link rotationExp}. */
export function rotationLog(r: ArrayLike<number>): Vec3 {
  const axial: Vec3 = [(r[7] - r[5]) / 2, (r[2] - r[6]) / 2, (r[3] - r[1]) / 2];
  const sine = Math.hypot(axial[0], axial[1], axial[2]);
  const cosine = (r[0] + r[4] + r[8] - 1) / 2;
  const angle = Math.atan2(sine, cosine);
  if (cosine > -0.9) {
    const k = sine > 1e-9 ? angle / sine : 1;
    return [k * axial[0], k * axial[1], k * axial[2]];
  }
  // Near half a turn the axis is the longest column of (R + Rᵀ)/2 + 1 − cos, its sense that of the axial vector.
  const sym = (i: number, j: number) => (r[3 * i + j] + r[3 * j + i]) / 2 - (i === j ? cosine : 0);
  const k = [0, 1, 2].reduce((best, i) => (sym(i, i) > sym(best, best) ? i : best), 0);
  const axis = unit3([sym(0, k), sym(1, k), sym(2, k)]);
  const sense = axial[0] * axis[0] + axial[1] * axis[1] + axial[2] * axis[2] < 0 ? -angle : angle;
  return [sense * axis[0], sense * axis[1], sense * axis[2]];
}

/** Angle of a rotation (rad, 0 … π). */
export function rotationAngle(r: ArrayLike<number>): number {
  const sine = 0.5 * Math.hypot(r[7] - r[5], r[2] - r[6], r[3] - r[1]);
  return Math.atan2(sine, (r[0] + r[4] + r[8] - 1) / 2);
}

/** Derivative of the exponential map: exp(w + d) ≈ exp(J d) exp(w), row-major 3 × 3 (left Jacobian of SO(3)). */
export function leftJacobian(w: ArrayLike<number>): Float64Array {
  const angle = Math.hypot(w[0], w[1], w[2]);
  const small = angle < 1e-3;
  const half = small ? 0.5 - (angle * angle) / 48 : Math.sin(angle / 2) / angle;
  const a = 2 * half * half;
  const b = small ? 1 / 6 - (angle * angle) / 120 : (angle - Math.sin(angle)) / angle ** 3;
  const k = Float64Array.of(0, -w[2], w[1], w[2], 0, -w[0], -w[1], w[0], 0);
  const k2 = multiply3(k, k);
  return k.map((value, i) => (i % 4 === 0 ? 1 : 0) + a * value + b * k2[i]);
}

/** The motion that does `first`, then `then`. */
export function composePoses(then: Pose, first: Pose): Pose {
  const moved = movePoint(then, first.translation);
  return { rotation: multiply3(then.rotation, first.rotation), translation: Float64Array.from(moved) };
}

/** The motion back: R' = Rᵀ, t' = −Rᵀ t. */
export function invertPose(pose: Pose): Pose {
  const rotation = transpose3(pose.rotation);
  return { rotation, translation: Float64Array.from(apply3(rotation, pose.translation), (value) => -value) };
}

export function movePoint(pose: Pose, p: ArrayLike<number>): Vec3 {
  const [x, y, z] = apply3(pose.rotation, p);
  return [x + pose.translation[0], y + pose.translation[1], z + pose.translation[2]];
}

/** Moved points, in `out` when given (may be `points` itself). Layout x0, y0, z0, x1, … (mm). */
export function movePoints(
  pose: Pose,
  points: Float64Array,
  out: Float64Array = new Float64Array(points.length),
): Float64Array {
  const [a, b, c, d, e, f, g, h, i] = pose.rotation;
  const [tx, ty, tz] = pose.translation;
  for (let k = 0; k < points.length; k += 3) {
    const x = points[k];
    const y = points[k + 1];
    const z = points[k + 2];
    out[k] = a * x + b * y + c * z + tx;
    out[k + 1] = d * x + e * y + f * z + ty;
    out[k + 2] = g * x + h * y + i * z + tz;
  }
  return out;
}

/** Row-major 4 × 4 of a motion. */
export function poseToMatrix(pose: Pose): number[] {
  const [r, t] = [pose.rotation, pose.translation];
  return [r[0], r[1], r[2], t[0], r[3], r[4], r[5], t[1], r[6], r[7], r[8], t[2], 0, 0, 0, 1];
}

/** Motion of a row-major 4 × 4; the rotation part is taken as it stands, see {@link nearestRotation}. */
export function poseFromMatrix(m: ArrayLike<number>): Pose {
  return {
    rotation: Float64Array.of(m[0], m[1], m[2], m[4], m[5], m[6], m[8], m[9], m[10]),
    translation: Float64Array.of(m[3], m[7], m[11]),
  };
}

/** Orthogonal matrix nearest to a nearly orthogonal one: Newton's iteration for the polar factor (Higham 1986). */
export function nearestRotation(matrix: ArrayLike<number>): Float64Array {
  let a = Float64Array.from(matrix);
  for (let step = 0; step < 20; step++) {
    const det = determinant3(a);
    const next = new Float64Array(9);
    let change = 0;
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        const [i1, i2, j1, j2] = [(i + 1) % 3, (i + 2) % 3, (j + 1) % 3, (j + 2) % 3];
        const cofactor = a[3 * i1 + j1] * a[3 * i2 + j2] - a[3 * i1 + j2] * a[3 * i2 + j1];
        next[3 * i + j] = 0.5 * (a[3 * i + j] + cofactor / det);
        change = Math.max(change, Math.abs(next[3 * i + j] - a[3 * i + j]));
      }
    a = next;
    if (change < 1e-15) break;
  }
  return a;
}

/** Rotation of a quaternion (w, x, y, z) of any non-zero length. */
export function rotationOfQuaternion(q: ArrayLike<number>): Float64Array {
  const s = 2 / (q[0] * q[0] + q[1] * q[1] + q[2] * q[2] + q[3] * q[3]);
  const [w, x, y, z] = [q[0], q[1], q[2], q[3]];
  return Float64Array.of(
    1 - s * (y * y + z * z),
    s * (x * y - w * z),
    s * (x * z + w * y),
    s * (x * y + w * z),
    1 - s * (x * x + z * z),
    s * (y * z - w * x),
    s * (x * z - w * y),
    s * (y * z + w * x),
    1 - s * (x * x + y * y),
  );
}

/** Uniformly distributed rotation from a uniform source (Shoemake 1992). */
export function randomRotation(uniform: () => number): Float64Array {
  const [u, a, b] = [uniform(), 2 * Math.PI * uniform(), 2 * Math.PI * uniform()];
  const [p, q] = [Math.sqrt(1 - u), Math.sqrt(u)];
  return rotationOfQuaternion([p * Math.sin(a), p * Math.cos(a), q * Math.sin(b), q * Math.cos(b)]);
}
