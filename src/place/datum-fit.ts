import { CamberwrightError } from '../error.ts';
import { apply3, composePoses, invertPose, movePoint, rotationExp, transpose3 } from '../math/rigid.ts';
import { dot3, subtract3, type Vec3 } from '../math/vec3.ts';
import { breathe, type RunContext } from '../model/context.ts';
import type { PlanDatumTarget } from '../model/plan.ts';
import type { Pose } from '../model/pose.ts';
import type { Cloud, Mesh } from '../model/shape.ts';
import type { DatumResult } from '../model/stock-results.ts';
import { type DatumRows, datumRows, motionRows, unitTargets } from './datum-rows.ts';
import { amplification, type DatumSurface, datumCovariance } from './datum-spread.ts';
import { poseAbout } from './pose-readings.ts';
import { solveSmall } from './solve-small.ts';
import { sphereAbout, type Touch, type TouchFinder } from './surface-touch.ts';
import { cloudTouch } from './surface-touch-cloud.ts';
import { meshTouch } from './surface-touch-mesh.ts';

/** The datum part of the results with the pose it stands for. */
export interface DatumFit extends DatumResult {
  /** Measured → nominal. */
  pose: Pose;
  /** Motions made until the part was still. */
  iterations: number;
}

/** The part is still when no motion is larger (mm, turns over the targets' spread); wanted, and least to be accepted. */
const STILL = { wanted: 1e-9, enough: 1e-6 };
const STEPS = 60;
/** Radii added to the balls to come near, one after the other, shares of the part's size. */
const GUIDES = [0.2, 0.05];
/** Vertices from which a large ball rests on them as on the triangles. */
const DENSE = 5000;
/** A surface farther from a target at the start is another one, share of the part's size. */
const FAR = 0.1;
/** Longest single motion, in spreads of the targets. */
const LONGEST = 0.2;

/**
 * Returns the placement of a part on six datum targets: the rigid motion after which the measured surface is met on
 * each target's line at the target, n·(p − q) = 0, or a guided ball rests where it would on the nominal part. Each step
 * solves G x = −r with rows [n, (q − c) × n], turns by the exact exponential, and meets the measured surface anew. Larger
 * balls lead near first: a point that is a millimetre off a nose misses it, and on a sharp nose it has a second place a
 * nose radius away, where a ball has none. Where the part comes to rest nowhere, as on surfaces that lean much against
 * the targets' normals, the rows learn from each step (Broyden 1965).
 *
 * @param targets six targets in the nominal frame (mm), with outward normals of any length
 * @param measured surface as measured: outward triangles, or points (with outward normals if it has them)
 * @param start pose to start from, measured → nominal; within about a millimetre and two degrees
 * @param over places over which the growth of the targets' uncertainty is told; absent: the targets themselves
 * @throws `plan/datum-targets` for targets that leave a motion free; `place/datum-target` where the measured surface is
 *   not met, or the part does not come to rest; `cancelled`
 */
export async function datumFit(
  targets: readonly PlanDatumTarget[],
  measured: Mesh | Cloud,
  start: Pose,
  context: RunContext,
  over?: DatumSurface,
): Promise<DatumFit> {
  const six = unitTargets(targets);
  const rows = datumRows(six);
  const sphere = sphereAbout(measured.positions);
  const points: Cloud = measured.kind === 'cloud' ? measured : { kind: 'cloud', positions: measured.positions };
  const findersOf = (larger: number) =>
    six.map(({ ball = 0 }) =>
      measured.kind === 'mesh' && (larger === 0 || measured.positions.length < 3 * DENSE)
        ? meshTouch(measured, ball + larger, sphere)
        : cloudTouch(points, ball + larger, sphere, larger > 0),
    );
  const finders = findersOf(0);
  const far = FAR * sphere.radius;
  const first = touchesAt(six, finders, start);
  if (first.includes(null)) throw restless(six, first);
  refuseFar(
    six,
    first.map((touch) => touch?.along ?? 0),
    far,
  );
  let near = start;
  let iterations = 0;
  for (const share of GUIDES) {
    const guided = await settle(six, rows, findersOf(share * sphere.radius), near, { wanted: 1e-3 }, context);
    if (guided.still) near = guided.pose;
    iterations += guided.iterations;
  }
  const plain = await settle(six, rows, finders, near, {}, context);
  const rest = plain.still ? plain : await settle(six, rows, finders, near, { learns: true }, context);
  const touches = rest.still ? rest.touches.filter((touch) => touch !== null) : [];
  if (!rest.still) throw restless(six, rest.touches);
  refuseFar(six, movedAlong(six, start, rest.pose), far);
  const u = touches.map((touch, k) => Math.hypot(six[k].u ?? 0, touch.u));
  const aboutOrigin = motionRows(six, [0, 0, 0]);
  const covariance = datumCovariance(aboutOrigin, u);
  const sd = (i: number) => Math.sqrt(covariance[7 * i]);
  const deg = 180 / Math.PI;
  return {
    pose: rest.pose,
    iterations: iterations + rest.iterations,
    targets: six.map(({ id, point, normal }, k) => ({ id, point, normal, residual: touches[k].along, u: u[k] })),
    condition: rows.condition,
    uShift: [sd(0), sd(1), sd(2)],
    uRotationDeg: [sd(3) * deg, sd(4) * deg, sd(5) * deg],
    amplification: amplification(aboutOrigin, u, over ?? placesOf(six)),
  };
}

interface Rest {
  pose: Pose;
  /** Null where no surface is near. */
  touches: (Touch | null)[];
  iterations: number;
  still: boolean;
}

/** Moves the part until it is still. @param options `learns`: rows follow what the steps did */
async function settle(
  targets: readonly PlanDatumTarget[],
  { rows, centre, spread }: DatumRows,
  finders: readonly TouchFinder[],
  start: Pose,
  { learns = false, wanted = STILL.wanted }: { learns?: boolean; wanted?: number },
  context: RunContext,
): Promise<Rest> {
  const nominal = rows.map((value, k) => (k % 6 < 3 ? value : value / spread));
  let matrix: Float64Array = nominal;
  let last: { step: Float64Array; along: Float64Array } | null = null;
  const rest: Rest = { pose: start, touches: [], iterations: 0, still: false };
  for (; rest.iterations <= STEPS; rest.iterations++) {
    await breathe(context);
    const touches = touchesAt(targets, finders, rest.pose);
    rest.touches = touches;
    const along = Float64Array.from(touches, (touch) => touch?.along ?? Number.NaN);
    const meets = touches.every((touch) => touch?.meets);
    matrix = learns && meets && last !== null ? taught(matrix, last, along) : nominal;
    const full = solveSmall(
      matrix,
      along.map((value) => -value),
      6,
    );
    const size = full === null ? Number.NaN : Math.hypot(...full);
    if (full === null || !Number.isFinite(size)) return rest;
    rest.still = meets && (size < wanted || (rest.iterations === STEPS && size < STILL.enough));
    if (rest.still || rest.iterations === STEPS) return rest;
    const scale = Math.min(1, (LONGEST * spread) / size);
    const step = full.map((value) => value * scale);
    const turn = rotationExp([step[3] / spread, step[4] / spread, step[5] / spread]);
    rest.pose = composePoses(poseAbout(turn, step.subarray(0, 3), centre), rest.pose);
    last = meets ? { step, along } : null;
  }
  return rest;
}

/** Rows corrected so that they tell what the last step did: Broyden's update of least change. */
function taught(
  rows: Float64Array,
  { step, along }: { step: Float64Array; along: Float64Array },
  now: Float64Array,
): Float64Array {
  const square = step.reduce((sum, value) => sum + value * value, 0);
  const next = rows.slice();
  for (let k = 0; k < 6; k++) {
    let told = 0;
    for (let i = 0; i < 6; i++) told += rows[6 * k + i] * step[i];
    for (let i = 0; i < 6; i++) next[6 * k + i] += ((now[k] - along[k] - told) * step[i]) / square;
  }
  return next;
}

function touchesAt(targets: readonly PlanDatumTarget[], finders: readonly TouchFinder[], pose: Pose): (Touch | null)[] {
  const back = invertPose(pose);
  const turned = transpose3(pose.rotation);
  return targets.map(({ point, normal }, k) =>
    finders[k]({ point: movePoint(back, point), normal: apply3(turned, normal) }),
  );
}

function restless(targets: readonly PlanDatumTarget[], touches: readonly (Touch | null)[]): CamberwrightError {
  const [none, missed] = [touches.indexOf(null), touches.findIndex((touch) => !touch?.meets)];
  const size = touches.map((touch) => Math.abs(touch?.along ?? 0));
  const { id } = targets[none >= 0 ? none : missed >= 0 ? missed : size.indexOf(Math.max(...size))];
  if (none >= 0)
    return new CamberwrightError('place/datum-target', `No measured surface faces datum target ${id} nearby.`, {
      where: id,
      remedy: 'Scan the part there, or correct the target: its point, or its normal, which points out of the part.',
    });
  const message =
    missed >= 0
      ? `The line of datum target ${id} does not meet the measured surface.`
      : `The part does not come to rest on its datum targets; it still moves at ${id}.`;
  return new CamberwrightError('place/datum-target', message, {
    where: id,
    remedy: 'Scan the part at the target without gaps or overhangs, or move the target to where the surface is smooth.',
  });
}

/** Lengths along the normals that the targets have moved from `start` to `pose` (mm). */
function movedAlong(targets: readonly PlanDatumTarget[], start: Pose, pose: Pose): number[] {
  const motion = composePoses(pose, invertPose(start));
  return targets.map(({ point, normal }) => dot3(subtract3(movePoint(motion, point), point), normal));
}

/** @throws `place/datum-target` for a target whose surface is farther along its normal than its own can be */
function refuseFar(targets: readonly PlanDatumTarget[], along: readonly number[], most: number): void {
  targets.forEach(({ id }, k) => {
    if (Math.abs(along[k]) > most)
      throw new CamberwrightError(
        'place/datum-target',
        `Datum target ${id} meets a surface ${Math.abs(along[k]).toFixed(1)} mm from where the start has it.`,
        {
          where: id,
          remedy: 'Turn its normal to point out of the part, correct its point, or start from a better placement.',
        },
      );
  });
}

function placesOf(targets: readonly PlanDatumTarget[]): { point: Float64Array; normal: Float64Array } {
  const all = (key: 'point' | 'normal') => Float64Array.from(targets.flatMap((target): Vec3 => target[key]));
  return { point: all('point'), normal: all('normal') };
}
