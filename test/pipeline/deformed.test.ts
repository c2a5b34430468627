import { beforeAll, describe, expect, test } from 'vitest';
import { deform, formAt, nominalBlade } from '../../samples/blade.ts';
import { makeScan, type Scan } from '../../samples/scan.ts';
import { poseOf } from '../../samples/scenario.ts';
import { PRESSURE } from '../../samples/section-form.ts';
import { sectionValues } from '../../samples/section-values.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { exactOutline } from '../../src/fit/nominal-blade.ts';
import { composePoses, invertPose, poseFromMatrix, poseToMatrix } from '../../src/math/rigid.ts';
import { fitSection } from '../../src/measure/twist-fit.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { Results, SectionResult } from '../../src/model/results.ts';
import { inspect } from '../../src/pipeline.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { loaded } from '../support/loaded.ts';
import { movedDeviation } from '../support/moved-deviation.ts';

const blade = deform(nominalBlade(), { twistDeg: [0, 0.2], bow: [0.02, 0.06], thickness: [0.03], leading: [-0.03] });
const shadow = { piece: PRESSURE, fromT: 0.35, toT: 0.6, fromHeight: 40, toHeight: 52 } as const;
const pose = poseOf([40, -110, 75], [120, -40, 60]);
const HEIGHTS = evenHeights(21);
let scan: Scan;

function median(values: number[]): number {
  return values.sort((a, b) => a - b)[values.length >> 1];
}

async function run(given: Pose | null): Promise<Results> {
  const { results } = await inspect(
    {
      nominal: loaded(exactSections(HEIGHTS, 400), 'nominal.csv'),
      measured: [loaded(scan.cloud, 'scan.ply')],
      ...(given ? { pose: poseToMatrix(given) } : {}),
    },
    {},
  );
  return results;
}

/** Root mean square error of the map against the closed form, `extra` being what the placement adds to the true one. */
function mapError(results: Results, extra: Pose): { rms: number; cells: number } {
  const { map } = results;
  if (!map) throw new Error('no map');
  const surface = exactTarget().surface;
  let squares = 0;
  let cells = 0;
  map.heights.forEach((height, row) => {
    if (row % 5 !== 2 || height < 1 || height > 119) return;
    map.along[row].forEach((along, column) => {
      const found = map.deviation[row][column];
      if (found === null) return;
      squares += (found - movedDeviation(surface, blade, extra, along, height)) ** 2;
      cells++;
    });
  });
  return { rms: Math.sqrt(squares / cells), cells };
}

const inner = (results: Results): SectionResult[] =>
  results.sections.filter((section) => section.height > 0 && section.height < 120);

describe('deformed part, 1,000,000 points, 5 µm noise, 0.1 % outliers, a shadow (seed 21), in its true pose', () => {
  let results: Results;

  beforeAll(async () => {
    scan = makeScan({
      blade,
      points: 1_000_000,
      seed: 21,
      noise: 0.005,
      outliers: 0.001,
      shadows: [shadow],
      pose,
    });
    results = await run(pose);
  }, 120_000);

  test('the map holds the closed form within 2 µm', () => {
    const { rms, cells } = mapError(results, {
      rotation: Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1),
      translation: new Float64Array(3),
    });
    expect(cells).toBeGreaterThan(5000);
    expect(rms).toBeLessThan(0.002);
  });

  test('section values hold the closed form: medians over the inner sections', () => {
    const errors = {
      chord: [] as number[],
      thickness: [] as number[],
      leading: [] as number[],
      trailing: [] as number[],
      twist: [] as number[],
    };
    for (const { height, measured, twistFitDeg } of inner(results)) {
      const { form } = formAt(blade, height);
      const exact = sectionValues(form);
      const nominal = exactOutline(exactSections([height], 800).sections[0].points);
      const truth = fitSection(
        nominal,
        null,
        exactOutline(exactSections([height], 800, blade).sections[0].points),
        [0, 0],
      );
      errors.chord.push(Math.abs(measured!.chordFar.value! - exact.chordFar));
      if (measured!.thicknessMax.value !== null)
        errors.thickness.push(Math.abs(measured!.thicknessMax.value - exact.thicknessMax));
      errors.leading.push(Math.abs(measured!.leadingEdge.radiusFit.value! - form.leading));
      errors.trailing.push(Math.abs(measured!.trailingEdge.radiusFit.value! - form.trailing));
      errors.twist.push(Math.abs(twistFitDeg!.value! - (truth!.twist * 180) / Math.PI));
    }
    expect(errors.chord).toHaveLength(19);
    expect(errors.thickness.length).toBeGreaterThan(15);
    expect(median(errors.chord)).toBeLessThan(0.002);
    expect(median(errors.thickness)).toBeLessThan(0.0005);
    expect(median(errors.leading)).toBeLessThan(0.003);
    expect(median(errors.trailing)).toBeLessThan(0.003);
    expect(median(errors.twist)).toBeLessThan(0.003);
  });

  test('coverage is right within 1 % and the shadow is not measured', () => {
    const whole = makeScan({ blade, points: 60_000, seed: 4 });
    let hidden = 0;
    for (let i = 0; i < whole.surfacePoints; i++) {
      const inside = whole.t[i] >= shadow.fromT && whole.t[i] <= shadow.toT;
      if (whole.piece[i] === PRESSURE && inside && whole.height[i] >= 40 && whole.height[i] <= 52) hidden++;
    }
    expect(Math.abs(results.deviation!.coverage - (1 - hidden / whole.surfacePoints))).toBeLessThan(0.01);
    const row = results.map!.heights.findIndex((height) => height > 46);
    const empty = results.map!.deviation[row].filter((value) => value === null).length;
    expect(empty).toBeGreaterThan(10);
    const section = results.sections.find((each) => each.height === 48)!;
    expect(section.coverage).toBeLessThan(0.9);
    expect(section.measured!.area.status).toBe('not-measured');
  });

  test('noise and outliers are found', () => {
    expect(results.deviation!.noise / 0.005).toBeGreaterThan(0.97);
    expect(results.deviation!.noise / 0.005).toBeLessThan(1.03);
    const strays = results.deviation!.outliers.count + (results.alignment!.leftOut.reasons['beyond the gate'] ?? 0);
    expect(results.deviation!.outliers.count).toBeGreaterThan(0.6 * scan.outlierCount);
    expect(strays / scan.outlierCount).toBeGreaterThan(0.95);
    expect(strays / scan.outlierCount).toBeLessThan(1.05);
  });
});

test('the same part placed by best fit: the map holds the closed form at the converged placement within 2 µm', async () => {
  const results = await run(null);
  expect(results.alignment!.converged).toBe(true);
  const found = poseFromMatrix(results.alignment!.matrix);
  const { rms, cells } = mapError(results, composePoses(found, invertPose(pose)));
  expect(cells).toBeGreaterThan(5000);
  expect(rms).toBeLessThan(0.002);
}, 120_000);
