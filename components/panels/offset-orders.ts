import { poseFromMatrix } from '../../src/math/rigid.ts';
import type { Offset } from '../../src/model/stock-results.ts';
import type { RotationOrder } from '../../src/place/pose-readings.ts';
import { workOffsets } from '../../src/place/work-offset.ts';

const ORDERS: readonly RotationOrder[] = ['RzRyRx', 'RxRyRz'];

/**
 * The offsets of a placement in both orders of rotations: those of the results as they are, the other order read anew
 * from the placement.
 * @param matrix row-major 4 × 4, measured → nominal
 */
export function offsetsInBothOrders(offsets: readonly Offset[], matrix: readonly number[]): Offset[] {
  const [first] = offsets;
  if (!first) return [];
  const { pivot, checkPoint } = first;
  const missing = ORDERS.filter((order) => offsets.every((offset) => offset.order !== order));
  const pose = poseFromMatrix(matrix);
  const read = missing.flatMap((order) => workOffsets(pose, { pivot, order, checkPoint: checkPoint.before }));
  return [...offsets, ...read];
}
