import * as v from 'valibot';
import { describe, expect, test } from 'vitest';
import { deform, nominalBlade } from '../../samples/blade.ts';
import { makeBlank } from '../../samples/blank.ts';
import { ROOT_BLOCK } from '../../samples/root-block.ts';
import { makeScan } from '../../samples/scan.ts';
import { PRESSURE, SUCTION } from '../../samples/section-form.ts';
import { makeMesh } from '../../samples/tessellate.ts';
import { seededRandom } from '../../src/math/random.ts';
import {
  composePoses,
  identityPose,
  invertPose,
  movePoint,
  movePoints,
  poseFromMatrix,
  rotationAngle,
  rotationExp,
} from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';
import { alignmentSchema } from '../../src/model/results.ts';
import { type Placement, placePart } from '../../src/place/place-part.ts';
import { poseAbout, translationAt } from '../../src/place/pose-readings.ts';
import { givenPlacement, toAlignment } from '../../src/place/to-alignment.ts';
import { bladeTarget, joined, randomPose, table } from './blade-target.ts';

const target = bladeTarget();
const scan = makeScan({ points: 20_000, noise: 0.005, seed: 5 });
const uniform = seededRandom(71);

function pick(keep: (i: number) => boolean): Float64Array {
  const out: number[] = [];
  for (let i = 0; i < scan.surfacePoints; i++)
    if (keep(i)) out.push(...scan.cloud.positions.subarray(3 * i, 3 * i + 3));
  return Float64Array.from(out);
}

/** Worst shift (mm) of the corners of the blade's box, between where a placement and the planted motion put them. */
function misplaced(placement: Placement, planted: Pose): number {
  const left = composePoses(placement.pose, planted);
  let worst = 0;
  for (const corner of [
    [-20, -20, 0],
    [20, 20, 0],
    [-15, 15, 120],
    [15, -15, 120],
  ])
    worst = Math.max(worst, Math.hypot(...movePoint(left, corner).map((c, i) => c - corner[i])));
  return worst;
}

const codes = (placement: Placement) => placement.warnings.map((w) => w.code);

describe('what else a scan holds', () => {
  test('root block and platform are left out with their count', async () => {
    const { positions } = makeMesh({ rows: 61, columns: 160, root: ROOT_BLOCK });
    const planted = randomPose(uniform);
    const placement = await placePart(target, movePoints(planted, positions));
    expect(misplaced(placement, planted)).toBeLessThan(1e-3);
    let below = 0;
    for (let i = 2; i < positions.length; i += 3) if (positions[i] < -0.02) below++;
    const { reasons, count } = placement.leftOut;
    expect(reasons['outside the span']).toBeGreaterThanOrEqual(below);
    expect(placement.residual.count + count).toBe(positions.length / 3);
  });

  test('blade standing on a table, and a table plate along it', async () => {
    const lying = movePoints(
      { rotation: rotationExp([Math.PI / 2, 0, 0]), translation: new Float64Array(3) },
      table([0, 60, 30], 150, 3),
    );
    for (const plate of [table([20, 10, -12], 150, 3), lying]) {
      const planted = randomPose(uniform);
      const placement = await placePart(target, joined(planted, scan.cloud.positions, plate));
      expect(misplaced(placement, planted)).toBeLessThan(0.03);
      expect(placement.leftOut.count).toBeGreaterThan(0.9 * (plate.length / 3));
    }
  });

  test('strays and outliers lose their say', async () => {
    const dirty = makeScan({ points: 20_000, noise: 0.005, seed: 6, outliers: 0.03, surroundings: 5000 });
    const planted = randomPose(uniform);
    const strays = Float64Array.from({ length: 300 }, () => 2000 * (uniform() - 0.5));
    const placement = await placePart(target, joined(planted, dirty.cloud.positions, strays));
    expect(misplaced(placement, planted)).toBeLessThan(0.03);
    const listed =
      placement.leftOut.reasons['does not fit its neighbours'] + (placement.leftOut.reasons['beyond the gate'] ?? 0);
    expect(listed).toBeGreaterThan(0.95 * dirty.outlierCount);
    expect(placement.residual.rms).toBeLessThan(0.0055);
  });
});

describe('parts of a blade', () => {
  test('tip third, end for end and any way round', async () => {
    const tip = pick((i) => scan.height[i] > 80);
    for (let k = 0; k < 3; k++) {
      const planted = randomPose(uniform);
      const placement = await placePart(target, movePoints(planted, tip));
      expect(misplaced(placement, planted)).toBeLessThan(0.15);
      const partial = placement.warnings.find((w) => w.code === 'place/partial');
      expect(partial?.message).toMatch(/heights 80\.\d to 1(19|20)\.\d mm only/);
    }
  });

  test('one flank is legitimate, with a warning that names the side', async () => {
    for (const [piece, words] of [
      [SUCTION, 'the suction side only'],
      [PRESSURE, 'the pressure side only'],
    ] as const) {
      const planted = randomPose(uniform);
      const placement = await placePart(
        target,
        movePoints(
          planted,
          pick((i) => scan.piece[i] === piece),
        ),
      );
      const [weakest] = placement.plays;
      expect(misplaced(placement, planted)).toBeLessThan(Math.max(0.02, 6 * weakest.play));
      expect(placement.warnings.find((w) => w.code === 'place/partial')?.message).toContain(words);
      expect(codes(placement)).toContain('place/weak-motion');
    }
  });
});

describe('parts that differ from the nominal', () => {
  test('deformed blade: large plays say that the span is held weakly', async () => {
    const bent = makeScan({ points: 20_000, noise: 0.005, blade: deform(nominalBlade(), { twistDeg: [0.2, 0.3] }) });
    const placement = await placePart(target, movePoints(randomPose(uniform), bent.cloud.positions));
    expect(placement.plays[0].weak).toBe(true);
    expect(placement.warnings.find((w) => w.code === 'place/weak-motion')?.message).toContain('along the span to');
  });

  test('forged blank with stock all round is placed as larger, not pushed along the span', async () => {
    const planted = randomPose(uniform);
    const placement = await placePart(target, movePoints(planted, makeBlank({ rows: 61, columns: 160 }).positions));
    expect(codes(placement)).toContain('place/oversize');
    expect(placement.offset).toBeGreaterThan(0.45);
    expect(placement.offset).toBeLessThan(0.75);
    const left = composePoses(placement.pose, planted);
    expect(Math.abs(translationAt(left, [0, 0, 60])[2])).toBeLessThan(4);
  });

  test('wrong unit: names the ratio and the remedy', async () => {
    for (const [scale, words, remedy] of [
      [1 / 25.4, '25.4 times smaller', '--unit-measured inch'],
      [25.4, '25.4 times larger', '--unit-nominal inch'],
    ] as const) {
      const moved = movePoints(randomPose(uniform), scan.cloud.positions).map((c) => c * scale);
      const error = await placePart(target, moved).catch((e: unknown) => e);
      expect(error).toMatchObject({ code: 'place/unit-ratio', exitCode: 5 });
      expect((error as Error).message).toContain(words);
      expect((error as { remedy: string }).remedy).toContain(remedy);
    }
  });

  test('another blade and a plain box are refused', async () => {
    const other = makeScan({ points: 20_000, blade: { ...nominalBlade(), centres: [30, 5], angle: [0.2, 0.3] } });
    const box = Float64Array.from({ length: 3 * 8000 }, () => 0);
    for (let i = 0; i < 8000; i++) {
      const face = Math.floor(uniform() * 6);
      [40, 12, 120].forEach((side, c) => {
        box[3 * i + c] = side * (face >> 1 === c ? face & 1 : uniform());
      });
    }
    for (const points of [other.cloud.positions, box]) {
      const refused = placePart(target, movePoints(randomPose(uniform), points));
      await expect(refused).rejects.toMatchObject({ code: 'place/not-this-blade', exitCode: 5 });
    }
  });

  test('too few points are refused', async () => {
    await expect(placePart(target, new Float64Array(30))).rejects.toMatchObject({ code: 'place/too-few-points' });
  });
});

describe('given placements, locks and the record', () => {
  test('a given placement stays as it is and is judged', async () => {
    const planted = randomPose(uniform);
    const moved = movePoints(planted, scan.cloud.positions);
    const off = composePoses(poseAbout(identityPose().rotation, [0.05, 0, 0], [0, 0, 60]), invertPose(planted));
    const placement = await placePart(target, moved, { given: { pose: off, handedness: 'proper' } });
    expect(placement.method).toBe('given');
    expect(placement.pose.translation.every((c, i) => Math.abs(c - off.translation[i]) < 1e-11)).toBe(true);
    expect(placement.residual.rms).toBeGreaterThan(0.01);
    const refined = await placePart(target, moved, { given: { pose: off, handedness: 'proper' }, refine: true });
    expect(refined.method).toBe('best-fit');
    expect(misplaced(refined, planted)).toBeLessThan(0.03);
  });

  test('locked motions stay to the last digit, free ones are found', async () => {
    const planted = poseAbout(rotationExp([0, 0, 0.012]), [0.3, -0.2, 0.4], [0, 0, 60]);
    const moved = movePoints(invertPose(planted), scan.cloud.positions);
    const placement = await placePart(target, moved, { locks: ['z', 'rx', 'ry'] });
    const [x, y, z] = translationAt(placement.pose, [0, 0, 60]);
    expect(Math.abs(z)).toBeLessThan(1e-12);
    expect(placement.pose.rotation[8]).toBe(1);
    expect(Math.hypot(x - 0.3, y + 0.2)).toBeLessThan(0.05);
    expect(rotationAngle(placement.pose.rotation)).toBeGreaterThan(0.008);
    expect(placement.plays).toHaveLength(6);
    expect(placement.plays.slice(3).every((p) => p.play === 0 && !p.weak)).toBe(true);
  });

  test('the record fits its schema and moves points as the placement does', async () => {
    const planted = randomPose(uniform);
    const placement = await placePart(target, movePoints(planted, scan.cloud.positions), { pivot: [0, 0, -60] });
    const record = toAlignment(placement);
    expect(v.safeParse(alignmentSchema, record).issues).toBeUndefined();
    expect(record.rivalRatio).toBe(10);
    const again = givenPlacement(record.matrix);
    expect(again.handedness).toBe('proper');
    expect(
      Math.hypot(...movePoint(again.pose, [1, 2, 3]).map((c, i) => c - movePoint(placement.pose, [1, 2, 3])[i])),
    ).toBeLessThan(1e-9);
  });

  test('mirrored and rounded matrices are read, others are refused', () => {
    const mirrored = givenPlacement([-1, 0, 0, 5, 0, 1, 0, 6, 0, 0, 1, 7, 0, 0, 0, 1]);
    expect(mirrored.handedness).toBe('mirrored');
    expect([...mirrored.pose.rotation]).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1]);
    for (const bad of [[1, 2], [2, 0, 0, 0, 0, 2, 0, 0, 0, 0, 2, 0, 0, 0, 0, 1], Array.from({ length: 16 }, () => 0)])
      expect(() => givenPlacement(bad)).toThrowError(expect.objectContaining({ code: 'usage/pose' }));
    expect(poseFromMatrix(Array.from({ length: 16 }, (_, i) => i)).translation).toEqual(Float64Array.of(3, 7, 11));
  });

  test('work split in any way gives the same bits', async () => {
    const { bestFit } = await import('../../src/place/best-fit.ts');
    const { nominalFeet } = await import('../../src/spatial/nominal-feet.ts');
    const start = poseAbout(rotationExp([0.001, 0.001, -0.002]), [0.1, 0.1, 0.1], [0, 0, 60]);
    const one = await bestFit(target, scan.cloud.positions, start);
    const three = await bestFit(target, scan.cloud.positions, start, {}, {}, async (points, feet, most) => {
      const count = feet.border.length;
      for (const part of [2, 0, 1])
        nominalFeet(
          target,
          points,
          null,
          Math.floor((part * count) / 3),
          Math.floor(((part + 1) * count) / 3),
          feet,
          most,
        );
    });
    expect([...three.pose.rotation, ...three.pose.translation]).toEqual([
      ...one.pose.rotation,
      ...one.pose.translation,
    ]);
  });
});
