import { composePoses, invertPose, movePoint, rotationAngle } from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';

/** How far a found placement is from the true one, at the stacking axis at a height: across and along the span, and the turn. */
export function placementError(
  found: Pose,
  truth: Pose,
  height: number,
): { acrossUm: number; alongUm: number; turnDeg: number } {
  const off = composePoses(found, invertPose(truth));
  const [x, y, z] = movePoint(off, [0, 0, height]);
  return {
    acrossUm: 1000 * Math.hypot(x, y),
    alongUm: 1000 * Math.abs(z - height),
    turnDeg: (rotationAngle(off.rotation) * 180) / Math.PI,
  };
}
