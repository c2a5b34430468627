import { beforeAll, describe, expect, test } from 'vitest';
import { POINT_OUTLIER, POINT_USED } from '../../src/model/relation.ts';
import { normalQuantile } from '../../src/relate/faults-cluster.ts';
import { findLocalFaults, keepFaultPoints } from '../../src/relate/faults-find.ts';
import type { NominalTarget } from '../../src/spatial/nominal-target.ts';
import { alongAt } from '../../src/spatial/surface-evaluate.ts';
import { type PlantedScan, plantedPoints, plantedRelation, sharpTarget } from './faults-parts.ts';

const NOISE = 0.005;
const DEPTH = 0.15;
const WIDTH = 0.2;
const LENGTH = 0.4;
const scan: PlantedScan = { seed: 1, density: 100, noise: NOISE, even: true, deformed: true, from: 55, to: 65 };
let target: NominalTarget;

/** A round-bottomed nick or bump about a place: half an ellipsoid. */
const round =
  (amount: number, along: number, height: number) =>
  (a: number, h: number): number =>
    amount * Math.sqrt(Math.max(0, 1 - ((a - along) / (0.5 * WIDTH)) ** 2 - ((h - height) / (0.5 * LENGTH)) ** 2));

beforeAll(() => {
  target = sharpTarget();
});

describe('a nick 0.15 mm deep, 0.4 mm long, 0.2 mm wide at 100 points/mm² and 5 µm noise', () => {
  const cases = [
    { name: 'on the nose of a leading edge of R 0.2', along: 0, height: 60.05, seed: 3 },
    { name: 'on a flank', along: 12, height: 60.2, seed: 5 },
  ];
  test.each(cases)('$name: place, extents and depth', async ({ along, height, seed }) => {
    const planted = round(-DEPTH, along, height);
    const relation = await plantedRelation(target, { ...scan, seed, strays: 0.001, planted });
    const faults = findLocalFaults(target.surface, relation, NOISE);
    expect(faults.map((fault) => fault.kind)).toEqual(['nick']);
    const [fault] = faults;
    const miss = Math.hypot(alongAt(target.surface, fault.u, fault.height) - along, fault.height - height);
    expect(miss).toBeLessThan(0.1);
    expect(Math.abs(fault.width / WIDTH - 1)).toBeLessThan(0.25);
    expect(Math.abs(fault.length / LENGTH - 1)).toBeLessThan(0.25);
    expect(Math.abs(fault.depth / -DEPTH - 1)).toBeLessThan(0.1);
    expect(fault.members.length).toBeGreaterThanOrEqual(4);
  });

  test('of 20 placed by chance on either, with some six points each, 19 are found and 13 have their sizes', () => {
    for (const along of [0, 12]) {
      let hits = 0;
      let sized = 0;
      for (let seed = 1; seed <= 20; seed++) {
        const height = 60 + 0.013 * seed;
        const planted = round(-DEPTH, along, height);
        const { relation } = plantedPoints(target, { ...scan, seed: 10 * seed, from: 57, to: 63, planted });
        const faults = findLocalFaults(target.surface, relation, NOISE);
        if (faults.length === 0) continue;
        hits++;
        expect(faults.length).toBe(1);
        const [{ u, height: found, width, length, depth }] = faults;
        expect(Math.hypot(alongAt(target.surface, u, found) - along, found - height)).toBeLessThan(0.1);
        const off = [width / WIDTH, length / LENGTH, 1 + 2.5 * (depth / -DEPTH - 1)].map((v) => Math.abs(v - 1));
        if (Math.max(...off) < 0.25) sized++;
      }
      expect(hits).toBeGreaterThanOrEqual(19);
      expect(sized).toBeGreaterThanOrEqual(13);
    }
  }, 60_000);
});

test('a bump of the same size is a bump', () => {
  const { relation } = plantedPoints(target, { ...scan, planted: round(DEPTH, -15, 61) });
  const faults = findLocalFaults(target.surface, relation, NOISE);
  expect(faults.map((fault) => fault.kind)).toEqual(['bump']);
  expect(Math.abs(faults[0].depth / DEPTH - 1)).toBeLessThan(0.1);
});

test('strays and smooth deformation are no defects, over 20 seeds', () => {
  for (let seed = 1; seed <= 20; seed++) {
    const even = seed % 2 === 0;
    const { relation } = plantedPoints(target, { ...scan, even, seed: 100 + seed, strays: 0.001, from: 57, to: 63 });
    expect(findLocalFaults(target.surface, relation, NOISE)).toEqual([]);
  }
}, 60_000);

test('points of a nick taken for strays come back into use, strays stay out', () => {
  const { relation, stray } = plantedPoints(target, { ...scan, strays: 0.001, planted: round(-DEPTH, 0, 60) });
  for (let i = 0; i < relation.count; i++) if (Math.abs(relation.deviation[i]) > 0.1) relation.flag[i] = POINT_OUTLIER;
  const kept = keepFaultPoints(relation, findLocalFaults(target.surface, relation, NOISE));
  expect(kept.size).toBeGreaterThan(2);
  for (const i of kept) expect([relation.flag[i], stray[i]]).toEqual([POINT_USED, 0]);
});

test('the tail of the normal distribution', () => {
  expect(normalQuantile(0.0013498980316301)).toBeCloseTo(3, 6);
  expect(normalQuantile(9.8658764503769e-10)).toBeCloseTo(6, 6);
});
