import { apply3, invertPose, multiply3, rotationAngle, rotationLog } from '../math/rigid.ts';
import { unit3, type Vec3 } from '../math/vec3.ts';
import type { Pose } from '../model/pose.ts';

/**
 * How three angles about fixed axes make the rotation: `RzRyRx` turns about X first, then Y, then Z
 * (R = Rz(C) Ry(B) Rx(A)); `RxRyRz` turns about Z first.
 */
export type RotationOrder = 'RzRyRx' | 'RxRyRz';

const DEG = 180 / Math.PI;

/** A motion read about a pivot: translation of the pivot (mm) and the angles A, B, C about X, Y, Z (degrees). */
export interface PoseReading {
  translation: Vec3;
  rotationDeg: Vec3;
  rotationOrder: RotationOrder;
}

/**
 * Angles A, B, C about X, Y, Z (degrees) of a rotation read in an order; at |B| = 90° C is set to 0. C is read with the
 * turn about X undone, so that A and C belong together however near to 90° B is.
 */
export function rotationAnglesDeg(r: ArrayLike<number>, order: RotationOrder): Vec3 {
  const forward = order === 'RzRyRx';
  const sine = forward ? -r[6] : r[2];
  const cosine = Math.hypot(r[8], forward ? r[7] : r[5]);
  const b = Math.atan2(sine, cosine);
  if (cosine < 1e-12) return [Math.atan2(forward ? -r[5] : r[7], r[4]) * DEG, b * DEG, 0];
  const a = Math.atan2(forward ? r[7] : -r[5], r[8]);
  const [ca, sa] = [Math.cos(a), Math.sin(a)];
  const c = forward
    ? Math.atan2(sa * r[2] - ca * r[1], ca * r[4] - sa * r[5])
    : Math.atan2(ca * r[3] + sa * r[6], ca * r[4] + sa * r[7]);
  return [a * DEG, b * DEG, c * DEG];
}

/** Rotation of angles about X, Y, Z (degrees) in an order; inverse of {@link rotationAnglesDeg}. */
export function rotationOfAnglesDeg(anglesDeg: ArrayLike<number>, order: RotationOrder): Float64Array {
  const [x, y, z] = [0, 1, 2].map((axis) => {
    const [c, s] = [Math.cos(anglesDeg[axis] / DEG), Math.sin(anglesDeg[axis] / DEG)];
    if (axis === 0) return [1, 0, 0, 0, c, -s, 0, s, c];
    return axis === 1 ? [c, 0, s, 0, 1, 0, -s, 0, c] : [c, -s, 0, s, c, 0, 0, 0, 1];
  });
  return order === 'RzRyRx' ? multiply3(z, multiply3(y, x)) : multiply3(x, multiply3(y, z));
}

/** Translation of the pivot by p' = R p + t: t + (R − 1) c. The rotation does not depend on the pivot. */
export function translationAt(pose: Pose, pivot: ArrayLike<number>): Vec3 {
  const turned = apply3(pose.rotation, pivot);
  const t = pose.translation;
  return [t[0] + turned[0] - pivot[0], t[1] + turned[1] - pivot[1], t[2] + turned[2] - pivot[2]];
}

/** Motion p' = R (p − c) + c + t of a rotation and a translation at a pivot. */
export function poseAbout(rotation: Float64Array, translation: ArrayLike<number>, pivot: ArrayLike<number>): Pose {
  const turned = apply3(rotation, pivot);
  return { rotation, translation: Float64Array.from([0, 1, 2], (i) => translation[i] + pivot[i] - turned[i]) };
}

export function readPose(pose: Pose, pivot: ArrayLike<number>, rotationOrder: RotationOrder): PoseReading {
  return {
    translation: translationAt(pose, pivot),
    rotationDeg: rotationAnglesDeg(pose.rotation, rotationOrder),
    rotationOrder,
  };
}

/** The motion read once more as its inverse (moves the programme instead of the part), by inversion. */
export function readInverse(pose: Pose, pivot: ArrayLike<number>, rotationOrder: RotationOrder): PoseReading {
  return readPose(invertPose(pose), pivot, rotationOrder);
}

/** Unit axis and angle (degrees, 0 … 180) of a rotation; the axis of no rotation is zero. */
export function axisAngleDeg(rotation: ArrayLike<number>): { axis: Vec3; angleDeg: number } {
  return { axis: unit3(rotationLog(rotation)), angleDeg: rotationAngle(rotation) * DEG };
}
