import { beforeAll, describe, expect, test } from 'vitest';
import { makeScan, type Scan } from '../../samples/scan.ts';
import { PRESSURE } from '../../samples/section-form.ts';
import type { Results } from '../../src/model/results.ts';
import {
  DEFORMED,
  deformedScan,
  inspectDeformed,
  mapError,
  middle,
  POSE,
  SHADOW,
  sectionErrors,
} from '../accuracy/deformed.ts';

let scan: Scan;

describe('deformed part, 1,000,000 points, 5 µm noise, 0.1 % outliers, a shadow (seed 21), in its true pose', () => {
  let results: Results;

  beforeAll(async () => {
    scan = deformedScan(21);
    results = await inspectDeformed(scan, POSE);
  }, 120_000);

  test('the map holds the closed form within 2 µm', () => {
    const { rms, cells } = mapError(results);
    expect(cells).toBeGreaterThan(5000);
    expect(rms).toBeLessThan(0.002);
  });

  test('section values hold the closed form: medians over the inner sections', () => {
    const errors = sectionErrors(results);
    expect(errors.chord).toHaveLength(19);
    expect(errors.thickness.length).toBeGreaterThan(15);
    expect(middle(errors.chord)).toBeLessThan(0.002);
    expect(middle(errors.thickness)).toBeLessThan(0.0005);
    expect(middle(errors.leading)).toBeLessThan(0.003);
    expect(middle(errors.trailing)).toBeLessThan(0.003);
    expect(middle(errors.twistDeg)).toBeLessThan(0.003);
  });

  test('coverage is right within 1 % and the shadow is not measured', () => {
    const whole = makeScan({ blade: DEFORMED, points: 60_000, seed: 4 });
    let hidden = 0;
    for (let i = 0; i < whole.surfacePoints; i++) {
      const inside = whole.t[i] >= SHADOW.fromT && whole.t[i] <= SHADOW.toT;
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
  const results = await inspectDeformed(scan, null);
  expect(results.alignment!.converged).toBe(true);
  const { rms, cells } = mapError(results);
  expect(cells).toBeGreaterThan(5000);
  expect(rms).toBeLessThan(0.002);
}, 120_000);
