import { composePoses, movePoints, rotationExp } from '../math/rigid.ts';
import type { Pose } from '../model/pose.ts';
import { emptyNearest, type LookUp, type Nearest } from './near-field.ts';
import { addRow, NORMAL_SIZE, offsetAfter, offsetIsSeen, solveStep, withoutOffset } from './normal-equations.ts';
import { poseAbout } from './pose-readings.ts';

/** Working arrays of a descent over up to `capacity` points. */
export interface DescentRoom {
  moved: Float64Array;
  nearest: Nearest;
  sums: Float64Array;
}

export function descentRoom(capacity: number): DescentRoom {
  return {
    moved: new Float64Array(3 * capacity),
    nearest: emptyNearest(capacity),
    sums: new Float64Array(NORMAL_SIZE),
  };
}

export interface DescentPlan {
  steps: number;
  /** Distance over which a point's say fades, at the first and the last step (mm). */
  reachFirst: number;
  reachLast: number;
  /** Centre of the nominal (mm) and length that makes a turn comparable with a shift. */
  centre: ArrayLike<number>;
  radius: number;
  /** Points whose nearest is an end of the span: 0 leaves them out, more lets them pull towards it. */
  endPull: number;
  /** Lets the part be larger or smaller all round. */
  offset: boolean;
  /** Marquardt's damping as a share of the diagonal. */
  damping: number;
  /** Stops early when a step moves nothing by more than this (mm). */
  enough: number;
}

/** Where a descent ended: the pose, and how much larger the part is all round (mm). */
export interface Descent {
  pose: Pose;
  offset: number;
}

/**
 * Returns the pose reached from `start` by point-to-plane steps (Chen & Medioni 1992) with a fading weight
 * exp(−(distance / reach)²), the reach shrinking geometrically.
 * @param points measured points, x0, y0, z0, … (mm); the first `count` are used
 */
export function descend(
  look: LookUp,
  points: Float64Array,
  count: number,
  start: Pose,
  plan: DescentPlan,
  room: DescentRoom,
): Descent {
  const { moved, nearest, sums } = room;
  const [cx, cy, cz] = [plan.centre[0], plan.centre[1], plan.centre[2]];
  const list = points.subarray(0, 3 * count);
  let pose = start;
  let offset = 0;
  for (let step = 0; step < plan.steps; step++) {
    const part = plan.steps > 1 ? step / (plan.steps - 1) : 1;
    const reach = plan.reachFirst * (plan.reachLast / plan.reachFirst) ** part;
    movePoints(pose, list, moved);
    look(moved, count, nearest);
    sums.fill(0);
    for (let i = 0; i < 3 * count; i += 3) {
      const x = moved[i];
      const y = moved[i + 1];
      const z = moved[i + 2];
      const dx = x - nearest.point[i];
      const dy = y - nearest.point[i + 1];
      const dz = z - nearest.point[i + 2];
      const square = dx * dx + dy * dy + dz * dz;
      if (square > 9 * reach * reach) continue;
      const off = Math.sqrt(square) - Math.abs(offset);
      const weight = Math.exp(-(off * off) / (reach * reach));
      const ax = (x - cx) / plan.radius;
      const ay = (y - cy) / plan.radius;
      const az = (z - cz) / plan.radius;
      if (nearest.border[i / 3] === 0) {
        const nx = nearest.normal[i];
        const ny = nearest.normal[i + 1];
        const nz = nearest.normal[i + 2];
        const d = nx * dx + ny * dy + nz * dz;
        addRow(sums, nx, ny, nz, ay * nz - az * ny, az * nx - ax * nz, ax * ny - ay * nx, d, weight);
      } else if (plan.endPull > 0) {
        addRow(sums, 0, 0, 1, ay, -ax, 0, dz, plan.endPull * weight);
      }
    }
    const freeOffset = plan.offset && offsetIsSeen(sums);
    const move = solveStep(freeOffset ? withoutOffset(sums) : sums, plan.damping);
    if (move === null) break;
    offset = freeOffset ? offsetAfter(sums, move) : 0;
    const turn = Math.hypot(move[3], move[4], move[5]) / plan.radius;
    const shift = Math.hypot(move[0], move[1], move[2]);
    const scale = Math.min(1, 0.5 / (turn + 1e-30), plan.radius / (shift + 1e-30)) / plan.radius;
    const rotation = rotationExp([move[3] * scale, move[4] * scale, move[5] * scale]);
    const keep = scale * plan.radius;
    pose = composePoses(poseAbout(rotation, [move[0] * keep, move[1] * keep, move[2] * keep], plan.centre), pose);
    if (shift + turn * plan.radius < plan.enough) break;
  }
  return { pose, offset };
}

/** Sum over the points of 1 − (distance / reach)² where positive; a point at an end of the span counts nothing. */
export function explainedSum(
  look: LookUp,
  points: Float64Array,
  count: number,
  pose: Pose,
  reach: number,
  room: DescentRoom,
): number {
  const { moved, nearest } = room;
  movePoints(pose, points.subarray(0, 3 * count), moved);
  look(moved, count, nearest);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    if (nearest.border[i]) continue;
    let square = 0;
    for (let c = 3 * i; c < 3 * i + 3; c++) square += (moved[c] - nearest.point[c]) ** 2;
    const gain = 1 - square / (reach * reach);
    if (gain > 0) sum += gain;
  }
  return sum;
}
