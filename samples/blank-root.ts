import { movePoints } from '../src/math/rigid.ts';
import type { PlanDatumTarget } from '../src/model/plan.ts';
import type { Pose } from '../src/model/pose.ts';
import { formAt, nominalBlade, sectionDistance } from './blade.ts';
import type { ForgedBlank } from './blank-surface.ts';
import { ROOT_BLOCK } from './root-block.ts';

/** Forged stock on the upper face of the platform and on the faces of the root block (mm). */
const ON_PLATFORM = 1;
const ON_BLOCK = 1.5;
/** Distance kept from the aerofoil on the platform: fillet and the aerofoil's own stock (mm). */
const CLEAR = ROOT_BLOCK.fillet + 2;
/** Standard uncertainty of a datum contact (mm). */
const CONTACT_U = 0.003;

const TOP = ROOT_BLOCK.platformTop + ON_PLATFORM;
const HIGH = ROOT_BLOCK.platformTop - ROOT_BLOCK.platform[2];
const HALF_LENGTH = ROOT_BLOCK.block[0] / 2 + ON_BLOCK;
const HALF_WIDTH = ROOT_BLOCK.block[1] / 2 + ON_BLOCK;

/** A place of the root's own frame, turned with the lowest section of the finished blade, in blade coordinates. */
function turned(along: number, across: number, z: number): [number, number, number] {
  const { angle } = formAt(nominalBlade(), ROOT_BLOCK.platformTop).form;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return [cos * along - sin * across, sin * along + cos * across, z];
}

/**
 * Fills `out` with points on a forged root: half on the upper face of its platform outside the aerofoil, the rest on the
 * four faces of its block by area, moved by `motion` against the aerofoil.
 */
export function rootPoints(
  blank: ForgedBlank,
  out: Float64Array,
  uniform: () => number,
  scatter: () => number,
  motion?: Pose,
): void {
  const blade = { ...blank.blade, fillet: null };
  const found = new Float64Array(6);
  const count = out.length / 3;
  const longShare = HALF_LENGTH / (HALF_LENGTH + HALF_WIDTH);
  for (let i = 0; i < count; i++) {
    if (2 * i < count) {
      let at: [number, number, number];
      do {
        const [along, across] = [uniform() - 0.5, uniform() - 0.5];
        at = turned(ROOT_BLOCK.platform[0] * along, ROOT_BLOCK.platform[1] * across, TOP);
        sectionDistance(blade, at[0], at[1], ROOT_BLOCK.platformTop, found);
      } while (found[0] < CLEAR);
      out.set([at[0], at[1], TOP + scatter()], 3 * i);
      continue;
    }
    const onLong = uniform() < longShare;
    const side = uniform() < 0.5 ? -1 : 1;
    const place = 2 * uniform() - 1;
    const z = HIGH - ROOT_BLOCK.block[2] * uniform();
    const push = scatter();
    const along = onLong ? HALF_LENGTH * place : side * (HALF_LENGTH + push);
    const across = onLong ? side * (HALF_WIDTH + push) : HALF_WIDTH * place;
    out.set(turned(along, across, z), 3 * i);
  }
  if (motion !== undefined) movePoints(motion, out, out);
}

/**
 * Six places that locate a forged root: three on the upper face of its platform, two on the long face of its block on the
 * pressure side, one on the end face below the leading edge. Blade frame (mm), where the drawing wants the root.
 */
export function rootTargets(): PlanDatumTarget[] {
  const middle = HIGH - ROOT_BLOCK.block[2] / 2;
  const target = (id: string, at: number[], normal: number[]): PlanDatumTarget => ({
    id,
    point: rounded(turned(at[0], at[1], at[2])),
    normal: turned(normal[0], normal[1], normal[2]),
    u: CONTACT_U,
  });
  return [
    target('A1', [-28, -11, TOP], [0, 0, 1]),
    target('A2', [28, -11, TOP], [0, 0, 1]),
    target('A3', [-28, 11, TOP], [0, 0, 1]),
    target('B1', [-18, -HALF_WIDTH, middle], [0, -1, 0]),
    target('B2', [18, -HALF_WIDTH, middle], [0, -1, 0]),
    target('C1', [-HALF_LENGTH, 0, middle], [-1, 0, 0]),
  ];
}

/** Places as a drawing would give them, to a thousandth of a micrometre. */
function rounded(at: [number, number, number]): [number, number, number] {
  return [Number(at[0].toFixed(6)), Number(at[1].toFixed(6)), Number(at[2].toFixed(6))];
}
