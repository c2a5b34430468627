import { movePoints } from '../math/rigid.ts';
import type { RunContext } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import { POINT_BEYOND_GATE, POINT_OUTSIDE_SPAN, POINT_USED, type Relation } from '../model/relation.ts';
import { type FeetFinder, findFeetHere } from '../spatial/find-feet.ts';
import { mortonOrder } from '../spatial/morton-order.ts';
import { emptyFeet } from '../spatial/nominal-feet.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import { FOOT_AT_END, FOOT_NONE } from '../spatial/surface-foot.ts';

export interface RelateOptions {
  /** Points farther from the nominal than this are not the aerofoil (mm). */
  gate: number;
  finder?: FeetFinder;
}

/**
 * Returns the foot, height and signed distance of every measured point on the nominal surface, points in the order
 * given. Points whose foot lies at an end of the span are outside it; points beyond the gate are something else.
 * @param points measured points in their own frame, x0, y0, z0, … (mm)
 * @param pose measured → nominal
 */
export async function relatePoints(
  target: NominalTarget,
  points: Float64Array,
  pose: Pose,
  options: RelateOptions,
  context: RunContext,
): Promise<Relation> {
  const count = points.length / 3;
  // On shared memory, where there is any, worker threads take the arrays as they are.
  const shared = typeof SharedArrayBuffer === 'function';
  const moved = shared ? new Float64Array(new SharedArrayBuffer(points.length * 8)) : new Float64Array(points.length);
  movePoints(pose, points, moved);
  const feet = emptyFeet(count, shared);
  const finder = options.finder ?? findFeetHere;
  await finder(target, moved, mortonOrder(moved), feet, options.gate, context);
  const flag = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    if (feet.border[i] === FOOT_NONE || Math.abs(feet.deviation[i]) > options.gate) flag[i] = POINT_BEYOND_GATE;
    else flag[i] = feet.border[i] === FOOT_AT_END ? POINT_OUTSIDE_SPAN : POINT_USED;
  }
  return { count, u: feet.u, height: feet.height, deviation: feet.deviation, flag };
}
