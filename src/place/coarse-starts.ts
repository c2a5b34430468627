import { multiply3, rotationExp, transpose3 } from '../math/rigid.ts';
import type { Pose } from '../model/pose.ts';
import type { PointSet } from './point-sets.ts';
import { uniformRotations } from './uniform-rotations.ts';

/** Shifts along the span tried from the centres' match (shares of the span). */
const SHIFTS = [0, -0.17, 0.17, -0.35, 0.35];
const SHIFTS_FEW = [0, -0.3, 0.3];
/** Turns about the nominal's long axis. */
const TURNS = 12;
const ROTATIONS = 800;

/** Starting poses that bring one of a set's principal axes onto the nominal's long axis, either way round. */
export function axisStarts(set: PointSet, nominal: PointSet, span: number): Pose[] {
  const rotations: Float64Array[] = [];
  const to = transpose3(nominal.axes.flat());
  const half = rotationExp(nominal.axes[1].map((c) => c * Math.PI));
  for (let first = 0; first < 3; first++) {
    const from = [0, 1, 2].flatMap((k) => set.axes[(first + k) % 3]);
    const onto = multiply3(to, from);
    for (const way of [onto, multiply3(half, onto)])
      for (let k = 0; k < TURNS; k++) {
        const turn = rotationExp(nominal.axes[0].map((c) => (c * 2 * Math.PI * k) / TURNS));
        rotations.push(multiply3(turn, way));
      }
  }
  return withShifts(rotations, SHIFTS, set, nominal, span);
}

/** Starting poses in all orientations. */
export function everyWayStarts(set: PointSet, nominal: PointSet, span: number): Pose[] {
  return withShifts(uniformRotations(ROTATIONS), SHIFTS_FEW, set, nominal, span);
}

function withShifts(
  rotations: Float64Array[],
  shifts: number[],
  set: PointSet,
  nominal: PointSet,
  span: number,
): Pose[] {
  const [x, y, z] = set.centre;
  return rotations.flatMap((r) =>
    shifts.map((shift) => ({
      rotation: r,
      translation: Float64Array.of(
        nominal.centre[0] - (r[0] * x + r[1] * y + r[2] * z),
        nominal.centre[1] - (r[3] * x + r[4] * y + r[5] * z),
        nominal.centre[2] - (r[6] * x + r[7] * y + r[8] * z) + shift * span,
      ),
    })),
  );
}
