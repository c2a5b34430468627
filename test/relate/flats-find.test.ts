import { beforeAll, describe, expect, test } from 'vitest';
import { faultRecords } from '../../src/relate/fault-records.ts';
import { spanDepartures } from '../../src/relate/faults-background.ts';
import { findLocalFaults } from '../../src/relate/faults-find.ts';
import { findEdgeFlats } from '../../src/relate/flats-find.ts';
import type { NominalTarget } from '../../src/spatial/nominal-target.ts';
import { alongAt } from '../../src/spatial/surface-evaluate.ts';
import { type PlantedScan, plantedPoints, sharpTarget } from './faults-parts.ts';

const NOISE = 0.005;
const R = 0.2;
const WIDTH = 0.15;
/** Depth of the chord below the arc. */
const SAGITTA = R - Math.sqrt(R * R - (WIDTH / 2) ** 2);
const scan: PlantedScan = {
  seed: 1,
  density: 100,
  noise: NOISE,
  even: true,
  deformed: true,
  strays: 0.001,
  from: 54,
  to: 66,
};
let target: NominalTarget;

beforeAll(() => {
  target = sharpTarget();
});

/** What a chord takes off the arc of the leading edge, its middle off the nose, over a length about a height. */
const flatAt =
  (off: number, middle: number, length: number) =>
  (along: number, height: number): number => {
    const angle = (along - off) / R;
    const inside = Math.abs(height - middle) < length / 2 && Math.abs(angle) < Math.asin(WIDTH / 2 / R);
    return inside ? (R - SAGITTA) / Math.cos(angle) - R : 0;
  };

/** A departure by the angle from the nose of either edge. */
const onEdges =
  (form: (angle: number, height: number) => number) =>
  (_along: number, height: number, u: number): number => {
    const { columns } = target.surface;
    const ends = [0, columns[0], columns[columns.length - 1]];
    const angle = Math.min(...ends.map((end) => Math.abs(u - end))) / R;
    return angle < Math.PI / 2 ? form(angle, height) : 0;
  };

describe('a flat 0.15 mm wide on a leading edge of R 0.2 at 100 points/mm² and 5 µm noise', () => {
  test('3 mm long, of 20 on a deformed part with strays, 19 are listed alone with their place and sizes', () => {
    let good = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const middle = 60 + 0.013 * seed;
      const { relation } = plantedPoints(target, { ...scan, seed: 10 * seed, planted: flatAt(0, middle, 3) });
      const faults = findLocalFaults(target.surface, relation, NOISE);
      if (faults.length !== 1 || faults[0].kind !== 'flat') continue;
      const [{ u, height, width, length, depth, uDepth }] = faults;
      const miss = Math.hypot(alongAt(target.surface, u, height), height - middle);
      expect(uDepth / SAGITTA).toBeLessThan(0.12);
      const off = [miss / 0.1, (width / WIDTH - 1) / 0.25, (length - 3) / 0.3, (depth / -SAGITTA - 1) / 0.2];
      if (off.every((part) => Math.abs(part) < 1)) good++;
    }
    expect(good).toBeGreaterThanOrEqual(19);
  }, 60_000);

  test('1.5 mm long, of 20 all are listed alone, 19 with width, sagitta and length', () => {
    let good = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const middle = 60 + 0.013 * seed;
      const { relation } = plantedPoints(target, { ...scan, seed: 10 * seed, planted: flatAt(0, middle, 1.5) });
      const faults = findLocalFaults(target.surface, relation, NOISE);
      expect(faults.map(({ kind }) => kind)).toEqual(['flat']);
      const [{ width, length, depth }] = faults;
      const off = [(width / WIDTH - 1) / 0.25, (length / 1.5 - 1) / 0.25, (depth / -SAGITTA - 1) / 0.2];
      if (off.every((part) => Math.abs(part) < 1)) good++;
    }
    expect(good).toBeGreaterThanOrEqual(19);
  }, 60_000);

  test('along the whole edge: its length is the covered span', () => {
    const { relation } = plantedPoints(target, { ...scan, seed: 3, planted: flatAt(-0.05, 60, 100) });
    const faults = findLocalFaults(target.surface, relation, NOISE);
    expect(faults.map(({ kind }) => kind)).toEqual(['flat']);
    const [{ u, height, width, length, depth }] = faults;
    expect(Math.hypot(alongAt(target.surface, u, height) + 0.05, height - 60)).toBeLessThan(0.1);
    expect(Math.abs(length - 12)).toBeLessThan(0.3);
    expect(Math.abs(width / WIDTH - 1)).toBeLessThan(0.1);
    expect(Math.abs(depth / -SAGITTA - 1)).toBeLessThan(0.2);
    const [record] = faultRecords(target.surface, faults);
    expect([record.kind, record.place.side]).toEqual(['flat', 'leading-edge']);
    expect(record.message).toMatch(/^Flat 0\.01 mm deep, 1[12]\.\d\d mm long, 0\.1\d mm wide, at height/);
  });
});

test.each([
  ['deformed smoothly', () => 0],
  ['blunt, cos²', (a: number) => -0.02 * Math.cos(a) ** 2],
  ['blunt, a bell', (a: number) => -0.02 * Math.exp(-0.5 * (a / 0.52) ** 2)],
  [
    'blunt more and less along the span',
    (a: number, h: number) => -0.02 * (1 + 0.5 * Math.sin(h / 10)) * Math.cos(a) ** 2,
  ],
  ['larger', () => 0.02],
])('edges %s have no flats', (_name, form) => {
  for (let seed = 1; seed <= 4; seed++) {
    const { relation } = plantedPoints(target, { ...scan, seed: 500 + seed, planted: onEdges(form) });
    const departures = spanDepartures(target.surface, relation, NOISE);
    expect(findEdgeFlats(target.surface, relation, departures, [], NOISE)).toEqual([]);
  }
});

test('a nick on an edge is no flat, and neither is what it leaves beside it', () => {
  const planted = (along: number, height: number) =>
    -0.15 * Math.sqrt(Math.max(0, 1 - (along / 0.1) ** 2 - ((height - 60.03) / 0.2) ** 2));
  for (let seed = 1; seed <= 3; seed++) {
    const { relation } = plantedPoints(target, { ...scan, seed, planted });
    expect(findLocalFaults(target.surface, relation, NOISE).map(({ kind }) => kind)).toEqual(['nick']);
  }
});
