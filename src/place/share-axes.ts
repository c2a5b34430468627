import { apply3, composePoses, invertPose } from '../math/rigid.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Pose } from '../model/pose.ts';
import { LOCKS, type Lock } from './best-fit.ts';
import { poseAbout, type RotationOrder, readPose, rotationOfAnglesDeg } from './pose-readings.ts';

/** An axis of a placement: shift of the pivot along, or turn about, an axis of the nominal. */
export type Axis = Lock;
/** The six axes in the order of the values: shifts, then turns. */
export const AXES = LOCKS;

/** Allowed values of axes: mm and degrees. */
export type AxisRanges = { readonly [K in Axis]?: readonly [number, number] | undefined };

/** How six values make a placement: relative to the placement `from`, shifts (mm) at the pivot and angles (degrees). */
export interface AxisFrame {
  from: Pose;
  pivot: Vec3;
  rotationOrder: RotationOrder;
}

/** Bounds of the six values; equal where an axis is held. */
export interface AxisBounds {
  low: Float64Array;
  high: Float64Array;
}

/** The six values of a placement; inverse of {@link poseOfValues}. */
export function valuesOfPose(pose: Pose, frame: AxisFrame): Float64Array {
  const { translation, rotationDeg } = readPose(
    composePoses(pose, invertPose(frame.from)),
    frame.pivot,
    frame.rotationOrder,
  );
  return Float64Array.of(...translation, ...rotationDeg);
}

/** The placement of six values. */
export function poseOfValues(values: Float64Array, frame: AxisFrame): Pose {
  const turn = rotationOfAnglesDeg(values.subarray(3), frame.rotationOrder);
  return composePoses(poseAbout(turn, values.subarray(0, 3), frame.pivot), frame.from);
}

/** Axes about which the three angles turn the part at their present values, in the nominal frame: X, Y, Z angle. */
export function turnAxes(values: Float64Array, rotationOrder: RotationOrder): [Vec3, Vec3, Vec3] {
  const turned = (angles: [number, number, number], axis: Vec3) =>
    apply3(rotationOfAnglesDeg(angles, rotationOrder), axis);
  const [a, b, c] = values.subarray(3);
  return rotationOrder === 'RzRyRx'
    ? [turned([0, b, c], [1, 0, 0]), turned([0, 0, c], [0, 1, 0]), [0, 0, 1]]
    : [[1, 0, 0], turned([a, 0, 0], [0, 1, 0]), turned([a, b, 0], [0, 0, 1])];
}

/** Values moved inside their bounds. */
export function insideBounds(values: Float64Array, { low, high }: AxisBounds): Float64Array {
  return values.map((value, k) => Math.min(Math.max(value, low[k]), high[k]));
}

/** Bounds by allowed ranges and locks; a locked axis keeps its value at the start. */
export function axisBounds(start: Float64Array, locks: readonly Axis[], ranges: AxisRanges): AxisBounds {
  const low = Float64Array.from(AXES, (axis) => ranges[axis]?.[0] ?? Number.NEGATIVE_INFINITY);
  const high = Float64Array.from(AXES, (axis) => ranges[axis]?.[1] ?? Number.POSITIVE_INFINITY);
  for (const [k, axis] of AXES.entries()) if (locks.includes(axis)) low[k] = high[k] = start[k];
  return { low, high };
}
