import { describe, expect, test } from 'vitest';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { CamberwrightError } from '../../src/error.ts';
import { identityPose, poseToMatrix } from '../../src/math/rigid.ts';
import type { Results } from '../../src/model/results.ts';
import type { Cloud, ProbeStatement, SectionTable, Shape } from '../../src/model/shape.ts';
import { inspect } from '../../src/pipeline.ts';
import { placePart } from '../../src/place/place-part.ts';
import { placeProbed } from '../../src/place-probed.ts';
import { nominalNormals } from '../../src/probe/nominal-normals.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { loaded } from '../support/loaded.ts';
import { probedBlade } from './blade-probe.ts';

const target = exactTarget(9, 160);
const { heights } = target.surface;
const [low, high] = [heights[0], heights[heights.length - 1]];
const HEIGHTS = [0.1, 0.3, 0.5, 0.7].map((share) => low + share * (high - low));
const nominal = loaded(exactSections(evenHeights(9), 160));
const probe = (tip: number, at = HEIGHTS): SectionTable =>
  probedBlade(target.surface, at, tip, { sigma: 0.002, seed: 3 });

async function run(shape: Shape, setting: ProbeStatement): Promise<Results> {
  const input = {
    nominal,
    measured: [loaded(shape)],
    settings: { probe: setting, heights: HEIGHTS.slice(1, 3), mapCell: 2, slabHalfThickness: 1 },
    pose: poseToMatrix(identityPose()),
  };
  return (await inspect(input, {})).results;
}

const codes = ({ warnings }: Results): string[] =>
  warnings.map(({ code }) => code).filter((code) => code.startsWith('probe/'));

describe('a probed blade on its nominal', () => {
  test('centres come back onto the part: no offset, edges and thickness within noise', async () => {
    const results = await run(probe(1), { points: 'centres', tipRadius: 1 });
    expect(codes(results)).toEqual([]);
    expect(Math.abs(results.deviation?.mean ?? 1)).toBeLessThan(2e-4);
    expect(results.sections).toHaveLength(2);
    for (const { measured, nominal: drawn } of results.sections) {
      if (!measured || !drawn) throw new Error('not measured');
      for (const [found, wanted] of [
        [measured.leadingEdge.radiusFit, drawn.leadingEdge.radiusFit],
        [measured.trailingEdge.radiusFit, drawn.trailingEdge.radiusFit],
        [measured.thicknessMax, drawn.thicknessMax],
      ]) {
        expect(Math.abs((found.value ?? 0) - (wanted.value ?? 9))).toBeLessThan(0.004);
      }
    }
  });

  test.each<[string, number, ProbeStatement, string, string]>([
    ['no compensation', 1, { points: 'compensated', tipRadius: 1 }, 'probe/not-compensated', '1.000 mm outside'],
    [
      'two compensations',
      -0.2,
      { points: 'compensated', tipRadius: 0.2 },
      'probe/compensated-twice',
      '0.200 mm inside',
    ],
    ['half the tip radius', 0.5, { points: 'centres', tipRadius: 0.25 }, 'probe/not-compensated', '0.250 mm outside'],
    ['a diameter for a radius', 0.1, { points: 'centres', tipRadius: 0.2 }, 'probe/tip-diameter', '0.100 mm inside'],
    ['a second compensation', 0, { points: 'centres', tipRadius: 0.2 }, 'probe/compensated-twice', '0.200 mm inside'],
  ])('%s is reported with its amount and left as it is', async (_, tip, setting, code, amount) => {
    const results = await run(probe(tip), setting);
    expect(codes(results)).toEqual([code]);
    const found = results.warnings.find((each) => each.code === code);
    expect(found?.message).toContain(amount);
    expect(found?.remedy).not.toBeNull();
    const offset = tip - (setting.points === 'centres' ? (setting.tipRadius ?? 0) : 0);
    expect(results.deviation?.mean).toBeCloseTo(offset, 2);
  });

  test('compensated points that were centres of a large ball cannot be centres of it again', async () => {
    const again = run(probe(0), { points: 'centres', tipRadius: 1 });
    await expect(again).rejects.toMatchObject({
      code: 'probe/not-centres',
      remedy: expect.stringContaining('--probe compensated'),
    });
  });

  test('a lone section and a cloud without vectors take the normals of the nominal', async () => {
    const lone = await run(probe(1, [HEIGHTS[1]]), { points: 'centres', tipRadius: 1 });
    expect(codes(lone)).toEqual([]);
    expect(Math.abs(lone.deviation?.mean ?? 1)).toBeLessThan(3e-4);
    const points = probe(1, [HEIGHTS[1], HEIGHTS[1] + 1]).sections.flatMap((section) =>
      Array.from({ length: section.points.length / 2 }, (_, i) => [
        section.points[2 * i],
        section.points[2 * i + 1],
        section.height,
      ]),
    );
    const cloud: Cloud = { kind: 'cloud', positions: Float64Array.from(points.flat()) };
    const asCloud = await run(cloud, { points: 'centres', tipRadius: 1 });
    expect(codes(asCloud)).toEqual([]);
    expect(Math.abs(asCloud.deviation?.mean ?? 1)).toBeLessThan(3e-4);
    const vectors = nominalNormals(target, cloud.positions, identityPose(), false).map((value) => -value);
    const approached = await run({ ...cloud, normals: vectors }, { points: 'centres', tipRadius: 1 });
    expect(Math.abs(approached.deviation?.mean ?? 1)).toBeLessThan(3e-4);
  });
});

test('points read as compensated that cannot be placed are placed where they lie as centres', async () => {
  const file = loaded(probe(1));
  const setting = { probe: { points: 'compensated', tipRadius: 1 } as const, leadingEdgeTowards: '-X' as const };
  const seen: number[] = [];
  const { probed, placed } = await placeProbed([file], setting, target, async (points, near) => {
    seen.push(points.length);
    if (near) return placePart(target, points, { given: near, refine: true, oversize: 'free', gate: near.gate });
    if (seen.length === 1) throw new CamberwrightError('place/not-this-blade', 'No.', { remedy: 'None.' });
    return placePart(target, points, { given: { pose: identityPose(), handedness: 'proper' } });
  });
  expect(seen).toHaveLength(3);
  expect(probed.positions).toHaveLength(seen[0]);
  expect(placed.offset).toBeCloseTo(1, 2);
  expect(Math.hypot(...placed.pose.translation)).toBeLessThan(0.05);
});
