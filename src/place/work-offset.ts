import { CamberwrightError } from '../error.ts';
import { invertPose, movePoint } from '../math/rigid.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Pose } from '../model/pose.ts';
import type { Offset } from '../model/stock-results.ts';
import { poseAbout, type RotationOrder, readPose, rotationOfAnglesDeg } from './pose-readings.ts';

/** How an offset is read from a placement. */
export interface OffsetOptions {
  /** Pivot the rotation is about (mm). */
  pivot: Vec3;
  order: RotationOrder;
  /** A point to prove the values with, far from the pivot (mm). */
  checkPoint: Vec3;
  /** What the control moves; absent: one offset for each. */
  moves?: Offset['moves'] | undefined;
}

/** Within this of 90° about Y the other two angles turn about nearly the same axis (degrees). */
const NEAR_QUARTER = 1;

/**
 * Returns a placement as values for the control, in full precision: the part moved by the pose itself, the programme
 * by its inverse. The inverse is read anew, as its values are not the negated ones. The check point stands before the
 * motion; where it is afterwards comes from the pose, not from the values.
 *
 * @param pose measured → nominal
 */
export function workOffsets(pose: Pose, { pivot, order, checkPoint, moves }: OffsetOptions): Offset[] {
  const asked: Offset['moves'][] = moves === undefined ? ['part', 'programme'] : [moves];
  return asked.map((each) => {
    const motion = each === 'part' ? pose : invertPose(pose);
    const { translation, rotationDeg } = readPose(motion, pivot, order);
    return {
      moves: each,
      order,
      pivot: [...pivot],
      translation,
      rotationDeg,
      checkPoint: { before: [...checkPoint], after: movePoint(motion, checkPoint) },
    };
  });
}

/**
 * Returns the motion that the values of an offset make of what they move: rotations about fixed axes through the pivot
 * in the order stated, then the translation.
 * @throws `usage/rotation-order` for an order that is not known
 */
export function offsetMotion(offset: Pick<Offset, 'order' | 'pivot' | 'translation' | 'rotationDeg'>): Pose {
  const rotation = rotationOfAnglesDeg(offset.rotationDeg, rotationOrderOf(offset.order));
  return poseAbout(rotation, offset.translation, offset.pivot);
}

/** Returns the pose (measured → nominal) that an offset stands for, whatever it moves. @throws as `offsetMotion` */
export function applyOffset(offset: Offset): Pose {
  const motion = offsetMotion(offset);
  return offset.moves === 'part' ? motion : invertPose(motion);
}

/** Returns true when the turn about Y is so near to 90° that only the sum or difference of the other two counts. */
export function nearQuarterTurn({ rotationDeg }: Pick<Offset, 'rotationDeg'>): boolean {
  return Math.abs(Math.abs(rotationDeg[1]) - 90) < NEAR_QUARTER;
}

function rotationOrderOf(order: string): RotationOrder {
  if (order === 'RzRyRx' || order === 'RxRyRz') return order;
  throw new CamberwrightError('usage/rotation-order', `The order of rotations "${order}" is not known.`, {
    remedy: 'Use RzRyRx (about X first) or RxRyRz (about Z first).',
  });
}
