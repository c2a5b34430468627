import * as v from 'valibot';
import { describe, expect, test } from 'vitest';
import { ROOT_BLOCK } from '../../samples/root-block.ts';
import { makeMesh } from '../../samples/tessellate.ts';
import { composePoses, identityPose, invertPose, movePoint } from '../../src/math/rigid.ts';
import { dot3, length3, subtract3, type Vec3 } from '../../src/math/vec3.ts';
import type { PlanDatumTarget } from '../../src/model/plan.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { Cloud, Mesh } from '../../src/model/shape.ts';
import { datumSchema } from '../../src/model/stock-results.ts';
import { datumFit } from '../../src/place/datum-fit.ts';
import { boxMesh, facetNear, motion, movedAway, scatter, target } from './datum-parts.ts';

const BOX = boxMesh([-20, -8, 0], [20, 8, 180]);
const BOX_TARGETS = [
  target('A1', [-8, 8, 20], [0, 1, 0]),
  target('A2', [8, 8, 20], [0, 1, 0]),
  target('A3', [0, 8, 160], [0, 1, 0]),
  target('B1', [-20, 0, 40], [-1, 0, 0]),
  target('B2', [-20, 0, 160], [-1, 0, 0]),
  target('C1', [0, 0, 0], [0, 0, -1]),
];
/** A millimetre and two degrees off. */
const OFF = motion([1.2, -1.2, 1], [0.6, -0.6, 0.5]);
const AWAY = motion([21, -34, 63], [40, -25, 310]);

/** Greatest distance between a point of the part moved by two poses, over the corners of its box. */
function apart(a: Pose, b: Pose, measured: Mesh): number {
  let most = 0;
  for (let i = 0; i < measured.positions.length; i += 3) {
    const p = measured.positions.subarray(i, i + 3);
    most = Math.max(most, length3(subtract3(movePoint(a, p), movePoint(b, p))));
  }
  return most;
}

describe('a box on six targets', () => {
  const measured = movedAway(BOX, AWAY);
  test('comes back to 1e-6 from a start off by 1 mm and 2°', async () => {
    const fit = await datumFit(BOX_TARGETS, measured, composePoses(OFF, AWAY), {});
    expect(apart(fit.pose, AWAY, measured)).toBeLessThan(1e-6);
    for (const { residual } of fit.targets) expect(Math.abs(residual)).toBeLessThan(1e-8);
  });
  test('comes back when every target is a ball', async () => {
    const balls = BOX_TARGETS.map((each, k) => ({ ...each, ball: 1 + 0.5 * k }));
    const fit = await datumFit(balls, measured, composePoses(OFF, AWAY), {});
    expect(apart(fit.pose, AWAY, measured)).toBeLessThan(1e-6);
  });
  test('lengths of the normals do not matter', async () => {
    const long = BOX_TARGETS.map((each, k) => ({ ...each, normal: each.normal.map((v) => (k + 2) * v) as Vec3 }));
    const fit = await datumFit(long, measured, composePoses(OFF, AWAY), {});
    expect(apart(fit.pose, AWAY, measured)).toBeLessThan(1e-6);
    expect(fit.targets[3].normal).toEqual([-1, 0, 0]);
  });
  test('lines that lean by up to 35° against the surface meet it at the target all the same', async () => {
    const leaning = BOX_TARGETS.map((each, k) => {
      const lean: Vec3 = [
        [0.3, 0, 0.6],
        [-0.5, 0, 0.3],
        [0.2, 0, -0.6],
        [0, 0.6, 0.2],
        [0, -0.4, 0.4],
        [0.5, 0.4, 0],
      ][k] as Vec3;
      return { ...each, normal: each.normal.map((value, i) => value + lean[i]) as Vec3 };
    });
    const fit = await datumFit(leaning, measured, composePoses(OFF, AWAY), {});
    for (const { point } of leaning) {
      const face = BOX_TARGETS.find((each) => each.point === point)!;
      const inPart = movePoint(AWAY, movePoint(invertPose(fit.pose), point));
      expect(Math.abs(dot3(subtract3(inPart, point), face.normal))).toBeLessThan(1e-8);
    }
    expect(apart(fit.pose, AWAY, measured)).toBeLessThan(1e-6);
  });
});

describe('the sample blade with its root', () => {
  const blade = makeMesh({ root: ROOT_BLOCK });
  const wanted: [Vec3, Vec3][] = [
    [
      [-8, 3, 20],
      [0, 1, 0],
    ],
    [
      [8, 3, 20],
      [0, 1, 0],
    ],
    [
      [0, 3, 100],
      [0, 1, 0],
    ],
    [
      [-30, 0, 30],
      [-1, 0, 0],
    ],
    [
      [-30, 0, 100],
      [-1, 0, 0],
    ],
    [
      [0, 0, -40],
      [0, 0, -1],
    ],
  ];
  const exact: PlanDatumTarget[] = wanted.map(([near, normal], k) => {
    const facet = facetNear(blade, near, normal);
    return target(`T${k + 1}`, facet.point, facet.normal);
  });
  const measured = movedAway(blade, AWAY);

  test('comes back to 1e-6 from a start off by 1 mm and 2°', async () => {
    const fit = await datumFit(exact, measured, composePoses(OFF, AWAY), {});
    expect(apart(fit.pose, AWAY, measured)).toBeLessThan(1e-6);
  });
  test('as a cloud within what its noise makes of it', async () => {
    const cloud = movedAway(scatter(blade, 600_000, 0.01, 5), AWAY);
    const { pose, targets: found } = await datumFit(exact, cloud, composePoses(OFF, AWAY), {});
    for (const { point, normal, u } of found) {
      const off = dot3(subtract3(movePoint(pose, movePoint(invertPose(AWAY), point)), point), normal);
      expect(Math.abs(off)).toBeLessThan(4 * u);
      expect(Math.abs(off)).toBeGreaterThan(0);
    }
    // Flanks average the noise; the nose of 0.3 mm has some 20 points.
    for (const k of [0, 1, 2, 5]) expect(found[k].u).toBeLessThan(0.0025);
    for (const k of [3, 4]) expect(found[k].u).toBeLessThan(0.03);
  });
});

describe('a cloud', () => {
  test('of exact points on a box comes back to 1e-6, points and balls', async () => {
    const cloud = movedAway(scatter(BOX, 60_000, 0, 7), AWAY);
    for (const ball of [undefined, 2]) {
      const targets = BOX_TARGETS.map((each) => (ball === undefined ? each : { ...each, ball }));
      const fit = await datumFit(targets, cloud, composePoses(OFF, AWAY), {});
      expect(apart(fit.pose, AWAY, movedAway(BOX, AWAY))).toBeLessThan(1e-6);
      for (const { u } of fit.targets) expect(u).toBeLessThan(1e-9);
    }
  });
});

describe('what targets make uncertain', () => {
  test('a worked nest: u 0.003 each', async () => {
    const nest: PlanDatumTarget[] = [
      target('A1', [-8, 0, 20], [0, 1, 0], { u: 0.003 }),
      target('A2', [8, 0, 20], [0, 1, 0], { u: 0.003 }),
      target('A3', [0, 0, 180], [0, 1, 0], { u: 0.003 }),
      target('B1', [-20, 0, 40], [1, 0, 0], { u: 0.003 }),
      target('B2', [-20, 0, 160], [1, 0, 0], { u: 0.003 }),
      target('C1', [0, 0, 0], [0, 0, 1], { u: 0.003 }),
    ];
    const fit = await datumFit(
      nest,
      nestSurface(nest),
      identityPose(),
      {},
      {
        point: Float64Array.of(0, 0, 100, 20, 0, 180, 0, 0, 20),
        normal: Float64Array.of(0, 1, 0, 0, 1, 0, 0, 1, 0),
        placeOf: (i) => ({ height: 100 + i, along: 0, side: 'suction', point: [20, 0, 180] }),
      },
    );
    expect(fit.uShift.map((value) => value.toFixed(5))).toEqual(['0.00412', '0.00242', '0.00300']);
    expect(fit.uRotationDeg.map((value) => value.toFixed(5))).toEqual(['0.00132', '0.00203', '0.01519']);
    expect((0.003 * fit.amplification.factor).toFixed(5)).toBe('0.00609');
    expect(fit.amplification.factor.toFixed(2)).toBe('2.03');
    expect(fit.amplification.place?.height).toBe(101);
    expect(v.safeParse(datumSchema, (({ pose: _, iterations: __, ...result }) => result)(fit)).success).toBe(true);
  });
  test('without places over which it is told, the targets themselves: no growth; without u, that of equal ones', async () => {
    const fit = await datumFit(BOX_TARGETS, BOX, identityPose(), {});
    expect(fit.uShift).toEqual([0, 0, 0]);
    expect(fit.amplification.factor).toBeCloseTo(1, 12);
    expect(fit.amplification.place).toBeNull();
  });
});

/** A small square about each target, facing it. */
function nestSurface(targets: readonly PlanDatumTarget[]): Mesh {
  const corners = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ];
  const positions = targets.flatMap(({ point, normal }) => {
    const axis = normal.indexOf(1);
    return corners.flatMap(([a, b]) =>
      point.map((value, i) => value + (i === (axis + 1) % 3 ? a : i === axis ? 0 : b)),
    );
  });
  const triangles = targets.flatMap((_, k) => [0, 1, 2, 0, 2, 3].map((i) => 4 * k + i));
  return { kind: 'mesh', positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
}

describe('targets that cannot hold a part', () => {
  const refused = async (targets: PlanDatumTarget[], code: string, words: RegExp, measured: Mesh | Cloud = BOX) => {
    await expect(datumFit(targets, measured, identityPose(), {})).rejects.toMatchObject({
      code,
      message: expect.stringMatching(words),
    });
  };
  const changed = (id: string, change: Partial<PlanDatumTarget>) =>
    BOX_TARGETS.map((each) => (each.id === id ? { ...each, ...change } : each));

  test('three on one line leave a turn about it free', async () => {
    await refused(
      changed('A3', { point: [0, 8, 20] }),
      'plan/datum-targets',
      /free: a turn about X through \(.*, 0\.0, 20\.0\)/,
    );
  });
  test('no target across leaves a shift free', async () => {
    await refused(
      changed('C1', { point: [10, 8, 90], normal: [0, 1, 0] }),
      'plan/datum-targets',
      /free: a shift along Z/,
    );
  });
  test('three parallel lines in one plane', async () => {
    const flat = [
      target('B1', [-20, 0, 40], [-1, 0, 0]),
      target('B2', [-20, 0, 100], [-1, 0, 0]),
      target('B3', [-20, 0, 160], [-1, 0, 0]),
      ...BOX_TARGETS.filter(({ id }) => /A1|A3|C1/.test(id)),
    ];
    await refused(flat, 'plan/datum-targets', /^The six datum targets leave free: a turn about /);
  });
  test('nearly so is refused as well', async () => {
    await refused(changed('A3', { point: [0, 8, 20.05] }), 'plan/datum-targets', /free: a turn about X/);
  });
  test('a normal without direction, and five targets', async () => {
    await refused(changed('B2', { normal: [0, 0, 0] }), 'plan/datum-targets', /B2 has no direction/);
    await refused(BOX_TARGETS.slice(1), 'plan/datum-targets', /5 datum targets/);
  });
  test('a target beside the part, or one whose normal points inwards, is named', async () => {
    await refused(changed('B2', { point: [-20, 0, 190] }), 'place/datum-target', /B2/);
    await refused(changed('C1', { normal: [0, 0, 1] }), 'place/datum-target', /C1/);
    const inwards = BOX_TARGETS.map((each) => ({ ...each, normal: each.normal.map((value) => -value) as Vec3 }));
    await refused(inwards, 'place/datum-target', /A1/);
    const cloud = scatter(BOX, 60_000, 0.005, 3);
    const hole = cloud.positions.filter((_, i, all) => {
      const k = 3 * Math.floor(i / 3);
      return Math.hypot(all[k] + 20, all[k + 1], all[k + 2] - 160) > 6;
    });
    await refused(BOX_TARGETS, 'place/datum-target', /B2/, { kind: 'cloud', positions: hole });
  });
});
