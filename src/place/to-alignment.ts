import { CamberwrightError } from '../error.ts';
import { determinant3, nearestRotation, poseFromMatrix, poseToMatrix } from '../math/rigid.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Pose } from '../model/pose.ts';
import type { Alignment } from '../model/results.ts';
import type { Handedness } from './coarse-pose.ts';
import type { Placement } from './place-part.ts';
import { type RotationOrder, readInverse, readPose } from './pose-readings.ts';

/** A rival so many times worse is out of the question; how much worse is chance. */
const CLEAR_RIVAL = 10;

/** How far a given matrix may be from a motion. */
const MATRIX_SLACK = 1e-3;

/** The placement as the record of the results file. A mirrored part's matrix holds the reversal of x too. */
export function toAlignment(placement: Placement): Alignment {
  const { pose, pivot, rotationOrder, handedness } = placement;
  const other: RotationOrder = rotationOrder === 'RzRyRx' ? 'RxRyRz' : 'RzRyRx';
  const reading = readPose(pose, pivot, rotationOrder);
  const { rotationDeg } = readPose(pose, pivot, other);
  const matrix = poseToMatrix(pose);
  if (handedness === 'mirrored') for (let row = 0; row < 3; row++) matrix[4 * row] = -matrix[4 * row];
  return {
    method: placement.method,
    matrix,
    pivot: [...pivot] as Vec3,
    ...reading,
    otherReading: { rotationDeg, rotationOrder: other },
    inverse: readInverse(pose, pivot, rotationOrder),
    locks: [...placement.locks],
    residual: { ...placement.residual },
    plays: placement.plays.map((play) => ({ ...play })),
    iterations: placement.iterations,
    converged: placement.converged,
    leftOut: { count: placement.leftOut.count, reasons: { ...placement.leftOut.reasons } },
    handedness,
    rivalRatio: placement.rivalRatio === null ? null : Math.min(CLEAR_RIVAL, Math.floor(placement.rivalRatio)),
  };
}

/**
 * Returns the placement of a row-major 4 × 4, measured → nominal; rounding in a file's digits is taken off.
 *
 * @throws `usage/pose` when it is not a rigid motion, with or without a mirror
 */
export function givenPlacement(matrix: readonly number[]): { pose: Pose; handedness: Handedness } {
  const refuse = (why: string) =>
    new CamberwrightError('usage/pose', `The given pose is not a rigid motion: ${why}.`, {
      remedy: 'Give a row-major 4 × 4 matrix with a rotation, measured to nominal, in millimetres.',
    });
  if (matrix.length !== 16 || !matrix.every(Number.isFinite)) throw refuse('it needs 16 finite numbers');
  if (matrix.slice(12).some((value, i) => Math.abs(value - (i === 3 ? 1 : 0)) > 1e-9))
    throw refuse('its last row must be 0 0 0 1');
  const { rotation, translation } = poseFromMatrix(matrix);
  const handedness = determinant3(rotation) < 0 ? 'mirrored' : 'proper';
  if (handedness === 'mirrored') for (let row = 0; row < 3; row++) rotation[3 * row] = -rotation[3 * row];
  if (Math.abs(determinant3(rotation)) < 0.5) throw refuse('its rotation has no size');
  const near = nearestRotation(rotation);
  if (near.some((value, i) => Math.abs(value - rotation[i]) > MATRIX_SLACK))
    throw refuse('its axes are not unit vectors at right angles');
  return { pose: { rotation: near, translation }, handedness };
}
