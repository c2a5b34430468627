import { expect, test } from 'vitest';
import { POINT_OUTLIER } from '../../src/model/relation.ts';
import { faultRecords, placeOf, restoreInMap } from '../../src/relate/fault-records.ts';
import { findLocalFaults, keepFaultPoints } from '../../src/relate/faults-find.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { plantedPoints, sharpTarget } from './faults-parts.ts';

test('a nick on the leading edge: its record, and its points back in the map', () => {
  const { surface } = sharpTarget();
  const planted = (along: number, height: number) =>
    -0.2 * Math.max(0, 1 - Math.hypot(along / 0.15, (height - 60) / 0.25));
  const scan = { seed: 4, density: 100, noise: 0.005, strays: 0.001, from: 57, to: 63, planted };
  const { relation } = plantedPoints({ surface } as ReturnType<typeof sharpTarget>, scan);
  const map = surfaceMap(surface, relation, MAP_DEFAULTS);
  // The deepest of them, as if taken for a stray.
  const deepest = relation.deviation.reduce(
    (best, d, i) =>
      Math.abs(relation.u[i]) < 0.15 && relation.flag[i] === 0 && d < relation.deviation[best] ? i : best,
    relation.u.findIndex((u) => Math.abs(u) < 0.15),
  );
  relation.flag[deepest] = POINT_OUTLIER;
  map.outliers.push(deepest);
  const strays = map.outliers.length;
  const used = map.counts.reduce((sum, n) => sum + n, 0);
  const faults = findLocalFaults(surface, relation, map.noise);
  const kept = keepFaultPoints(relation, faults);
  restoreInMap(map, relation, kept);
  expect(kept.size).toBeGreaterThan(0);
  expect(map.outliers.length).toBe(strays - kept.size);
  expect(map.counts.reduce((sum, n) => sum + n, 0)).toBe(used + kept.size);
  const records = faultRecords(surface, faults);
  expect(records.length).toBe(1);
  expect(records[0].place.side).toBe('leading-edge');
  expect(records[0].place.height).toBeCloseTo(60, 1);
  expect(records[0].message).toMatch(
    /^Nick 0\.\d\d mm deep, 0\.\d\d mm long, 0\.\d\d mm wide, at height 60\.\d mm on the/,
  );
});

test('places are told by side and edge', () => {
  const { surface } = sharpTarget();
  const end = surface.columns[surface.columns.length - 1];
  const sides = [-12, 0, 12, end - 1e-3, surface.columns[0] + 1e-3].map((u) => placeOf(surface, u, 60).side);
  expect(sides).toEqual(['suction', 'leading-edge', 'pressure', 'trailing-edge', 'trailing-edge']);
});
