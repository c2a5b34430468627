import { movePoint, multiply3, rotationAngle, transpose3 } from '../math/rigid.ts';
import type { Pose } from '../model/pose.ts';
import type { PointSet } from './point-sets.ts';

/** Turn (rad) and shift (share of the nominal's size) within which two poses are one placement. */
const SAME_TURN = (6 * Math.PI) / 180;
const SAME_SHIFT = 0.04;

/** Whether two poses put the part in the same place, seen from the middle of the nominal; `slack` widens the limits. */
export function isSamePlacement(a: Pose, b: Pose, of: { nominal: PointSet; size: number }, slack = 1): boolean {
  const turn = multiply3(a.rotation, transpose3(b.rotation));
  if (rotationAngle(turn) > slack * SAME_TURN) return false;
  const back = [0, 1, 2].map((c) => of.nominal.centre[c] - b.translation[c]);
  const measured = [0, 1, 2].map(
    (c) => b.rotation[c] * back[0] + b.rotation[3 + c] * back[1] + b.rotation[6 + c] * back[2],
  );
  const there = movePoint(a, measured);
  return Math.hypot(...there.map((value, c) => value - of.nominal.centre[c])) < slack * SAME_SHIFT * of.size;
}
