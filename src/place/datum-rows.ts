import { CamberwrightError } from '../error.ts';
import { symmetricEigen } from '../math/symmetric-eigen.ts';
import { cross3, dot3, length3, subtract3, type Vec3 } from '../math/vec3.ts';
import type { PlanDatumTarget } from '../model/plan.ts';

/** Six targets as rows of motion: what a small motion [v, w] moves each of them along its normal. */
export interface DatumRows {
  /** Centre of the targets (mm); the motion is [shift of the centre (mm), turn about it (rad)]. */
  centre: Vec3;
  /** Root mean square distance of the targets from it (mm). */
  spread: number;
  /** Row-major 6 × 6, rows [n, (q − centre) × n]. */
  rows: Float64Array;
  /** Condition of the rows with turns multiplied by the spread. */
  condition: number;
}

/** Beyond this the six targets leave a motion to chance: 1 µm of contact becomes a millimetre. */
const CONDITION_MOST = 1000;

/** Returns rows [n, (q − centre) × n], six numbers a target. */
export function motionRows(targets: readonly PlanDatumTarget[], centre: ArrayLike<number>): Float64Array {
  const rows = new Float64Array(6 * targets.length);
  targets.forEach(({ point, normal }, k) => {
    rows.set(normal, 6 * k);
    rows.set(cross3(subtract3(point, centre), normal), 6 * k + 3);
  });
  return rows;
}

/**
 * Returns six targets with unit normals.
 * @throws `plan/datum-targets` when there are not six, or a normal has no direction
 */
export function unitTargets(targets: readonly PlanDatumTarget[]): PlanDatumTarget[] {
  if (targets.length !== 6)
    throw new CamberwrightError('plan/datum-targets', `${targets.length} datum targets are given, six are needed.`, {
      remedy: 'Give six targets, such as three on a flank, two on an edge and one at the foot.',
    });
  return targets.map((target) => {
    const length = length3(target.normal);
    if (!(length > 0))
      throw new CamberwrightError('plan/datum-targets', `The normal of target ${target.id} has no direction.`, {
        where: target.id,
        remedy: 'Give the outward normal of the part at the target.',
      });
    return { ...target, normal: target.normal.map((value) => value / length) as Vec3 };
  });
}

/**
 * Returns the rows of six targets and their condition.
 * @param targets with unit normals
 * @throws `plan/datum-targets` when they leave a motion free, told in words
 */
export function datumRows(targets: readonly PlanDatumTarget[]): DatumRows {
  const centre = [0, 1, 2].map((i) => targets.reduce((sum, { point }) => sum + point[i], 0) / targets.length) as Vec3;
  const squares = targets.reduce((sum, { point }) => sum + length3(subtract3(point, centre)) ** 2, 0);
  const spread = Math.sqrt(squares / targets.length) || 1;
  const rows = motionRows(targets, centre);
  const normal = new Float64Array(36);
  const unit = (i: number) => (i < 3 ? 1 : 1 / spread);
  for (let k = 0; k < targets.length; k++)
    for (let i = 0; i < 6; i++)
      for (let j = 0; j < 6; j++) normal[6 * i + j] += rows[6 * k + i] * unit(i) * rows[6 * k + j] * unit(j);
  const { values, vectors } = symmetricEigen(normal, 6);
  const condition = Math.sqrt(values[5] / Math.max(values[0], Number.MIN_VALUE));
  if (condition > CONDITION_MOST) {
    const free = Array.from(values).filter((value) => value * CONDITION_MOST ** 2 < values[5]).length;
    const words = Array.from({ length: free }, (_, m) =>
      motionWords(vectors.subarray(6 * m, 6 * m + 6), centre, spread),
    );
    throw new CamberwrightError('plan/datum-targets', `The six datum targets leave free: ${words.join('; ')}.`, {
      where: targets.map(({ id }) => id).join(', '),
      remedy:
        'Place the targets so that each motion is held: three not on one line, two apart along the span, one across.',
    });
  }
  return { centre, spread, rows, condition };
}

/** A small motion in words; its turns are multiplied by the spread. */
function motionWords(motion: ArrayLike<number>, centre: Vec3, spread: number): string {
  const shift: Vec3 = [motion[0], motion[1], motion[2]];
  const turn: Vec3 = [motion[3] / spread, motion[4] / spread, motion[5] / spread];
  const square = dot3(turn, turn);
  if (Math.sqrt(square) * spread < 1e-3 * length3(shift)) return `a shift along ${directionWords(shift)}`;
  const off = cross3(turn, shift);
  const point = [0, 1, 2].map((i) => (centre[i] + off[i] / square).toFixed(1).replace(/^-(0\.0)$/, '$1'));
  const pitch = Math.abs(dot3(turn, shift)) / square;
  const screw = pitch > 1e-3 * spread ? ' with a shift along it' : '';
  return `a turn about ${directionWords(turn)} through (${point.join(', ')})${screw}`;
}

function directionWords(a: Vec3): string {
  const length = length3(a);
  const axis = [0, 1, 2].find((i) => Math.abs(a[i]) > 0.9999 * length);
  if (axis !== undefined) return 'XYZ'[axis];
  const sign = a.find((value) => Math.abs(value) > 1e-6 * length)! < 0 ? -1 : 1;
  return `(${a.map((value) => ((sign * value) / length).toFixed(3)).join(', ')})`;
}
