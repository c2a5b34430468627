import { apply3, invertPose, movePoints } from '../math/rigid.ts';
import type { Pose } from '../model/pose.ts';
import { mirroredPoints } from '../place/coarse-pose.ts';
import { emptyFeet, nominalFeet } from '../spatial/nominal-feet.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';

/**
 * Returns the nominal's outward unit normals at the feet of points, turned back into the points' own frame.
 * @param points x0, y0, z0, … as measured (mm)
 * @param mirrored true when the pose moves the points with x reversed
 */
export function nominalNormals(
  target: NominalTarget,
  points: Float64Array,
  pose: Pose,
  mirrored: boolean,
): Float64Array {
  const count = points.length / 3;
  const moved = new Float64Array(points.length);
  movePoints(pose, mirrored ? mirroredPoints(points) : points, moved);
  const feet = emptyFeet(count);
  nominalFeet(target, moved, null, 0, count, feet);
  const back = invertPose(pose).rotation;
  const normals = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) normals.set(apply3(back, feet.normal.subarray(i, i + 3)), i);
  return mirrored ? mirroredPoints(normals) : normals;
}
