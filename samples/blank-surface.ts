import { invertPose, movePoint } from '../src/math/rigid.ts';
import type { Pose } from '../src/model/pose.ts';
import { type BladeLaw, formAt, surfacePoint } from './blade.ts';
import type { FieldAt } from './blank-field.ts';
import { type BladePlace, distanceToBlade, nominalSurfacePoint } from './deviation.ts';
import type { Piece } from './section-form.ts';

/** A blank in closed form: every point of its aerofoil lies on the normal of a blade, outside it by a field. */
export interface ForgedBlank {
  blade: BladeLaw;
  field: FieldAt;
}

/** Steps over which the surface's tangents are taken: share of a piece, height (mm). */
const STEP_T = 1e-5;
const STEP_HEIGHT = 1e-4;

const node = new Float64Array(7);
const beside = new Float64Array(3);
const above = new Float64Array(3);

function pointOf(
  blank: ForgedBlank,
  piece: Piece,
  t: number,
  z: number,
  out: Float64Array,
  form = formAt(blank.blade, z),
) {
  surfacePoint(form, piece, t, z, node);
  const stock = blank.field(piece, t, z);
  for (let axis = 0; axis < 3; axis++) out[axis] = node[axis] + stock * node[3 + axis];
}

/** Writes the blank's point over a place of its blade to `out[0…2]` (mm). */
export function blankPoint(blank: ForgedBlank, place: BladePlace, out: Float64Array): void {
  pointOf(blank, place.piece, place.t, place.height, out);
}

/** Writes the blank's point over a place of its blade and its own outward unit normal to `out[0…5]`, by differences. */
export function blankPointAndNormal(blank: ForgedBlank, piece: Piece, t: number, z: number, out: Float64Array): void {
  const form = formAt(blank.blade, z);
  const step = t > 0.5 ? -STEP_T : STEP_T;
  pointOf(blank, piece, t + step, z, beside, form);
  pointOf(blank, piece, t, z + STEP_HEIGHT, above);
  pointOf(blank, piece, t, z, out, form);
  const [ax, ay, az] = [beside[0] - out[0], beside[1] - out[1], beside[2] - out[2]];
  const [bx, by, bz] = [above[0] - out[0], above[1] - out[1], above[2] - out[2]];
  const [nx, ny, nz] = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
  const size = Math.hypot(nx, ny, nz) * Math.sign(nx * node[3] + ny * node[4] + nz * node[5]);
  out[3] = nx / size;
  out[4] = ny / size;
  out[5] = nz / size;
}

/** How far a point lies outside the blank along the normal of the blank's blade (mm): 0 on its surface. */
function outsideBlank(blank: ForgedBlank, x: number, y: number, z: number): number {
  const foot = distanceToBlade(blank.blade, x, y, z);
  return foot.distance - blank.field(foot.piece, foot.t, foot.height);
}

/**
 * Stock at a place of the finished blade (mm): from there along its normal to the surface of the blank in a placement,
 * by secants. NaN where the normal meets the root below the fillet.
 * @param pose blank's own frame → frame of the finished blade; absent: the same
 */
export function stockOnBlade(blank: ForgedBlank, finished: BladeLaw, place: BladePlace, pose?: Pose): number {
  const [x, y, z, nx, ny, nz] = nominalSurfacePoint(finished, place);
  const back = pose === undefined ? null : invertPose(pose);
  const outside = (reach: number): number => {
    const at: [number, number, number] = [x + reach * nx, y + reach * ny, z + reach * nz];
    const [px, py, pz] = back === null ? at : movePoint(back, at);
    return outsideBlank(blank, px, py, pz);
  };
  let [last, lastValue] = [0, outside(0)];
  let reach = -lastValue;
  for (let round = 0; round < 40; round++) {
    const value = outside(reach);
    if (Math.abs(value) < 1e-13 || value === lastValue) break;
    const next = reach - (value * (reach - last)) / (value - lastValue);
    [last, lastValue, reach] = [reach, value, next];
    if (Math.abs(reach - last) < 1e-13) break;
  }
  return reach;
}
