import { beforeAll, describe, expect, test } from 'vitest';
import { deform, nominalBlade, sectionDistance } from '../../samples/blade.ts';
import { makeScan, type Scan } from '../../samples/scan.ts';
import { SUCTION } from '../../samples/section-form.ts';
import { identityPose } from '../../src/math/rigid.ts';
import { POINT_OUTLIER, type Relation } from '../../src/model/relation.ts';
import { deviationStatistics } from '../../src/relate/deviation-statistics.ts';
import { relatePoints } from '../../src/relate/relate-points.ts';
import { MAP_DEFAULTS, type SurfaceMap, surfaceMap } from '../../src/relate/surface-map.ts';
import type { NominalTarget } from '../../src/spatial/nominal-target.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';
import { exactTarget } from '../support/exact-nominal.ts';

const blade = deform(nominalBlade(), { twistDeg: [0, 0.2], bow: [0.02, 0.06], thickness: [0.03], leading: [-0.03] });
const shadow = { piece: SUCTION, fromT: 0.4, toT: 0.6, fromHeight: 50, toHeight: 70 } as const;
let target: NominalTarget;
let scan: Scan;
let relation: Relation;
let map: SurfaceMap;

/** True distance along the nominal's normal at the centre of a cell (mm). */
function trueDeviation(row: number, column: number): number {
  const { cells } = map;
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const found = new Float64Array(4);
  const u = (cells.columnBorders[column] + cells.columnBorders[column + 1]) / 2;
  evaluateSurface(target.surface, u, cells.heights[row], place);
  placeNormal(target.surface, place, normal);
  let reach = 0;
  for (let i = 0; i < 40; i++) {
    const [x, y, z] = [0, 1, 2].map((k) => place[k] + reach * normal[k]);
    sectionDistance(blade, x, y, z, found);
    reach -= found[0] / (found[1] * normal[0] + found[2] * normal[1] + found[3] * normal[2]);
  }
  return reach;
}

describe('surfaceMap of a deformed scan, seed 5, 300,000 points, 5 µm noise', () => {
  beforeAll(async () => {
    target = exactTarget();
    scan = makeScan({ blade, points: 300_000, seed: 5, noise: 0.005, outliers: 0.001, shadows: [shadow] });
    relation = await relatePoints(target, scan.cloud.positions, identityPose(), { gate: 3 }, {});
    map = surfaceMap(target.surface, relation, MAP_DEFAULTS);
  });

  test('cells hold the closed-form deviation', () => {
    const columns = map.cells.columnBorders.length - 1;
    let squares = 0;
    let chi = 0;
    let count = 0;
    for (let k = 0; k < map.deviation.length; k += 7) {
      if (!Number.isFinite(map.deviation[k])) continue;
      const error = map.deviation[k] - trueDeviation(Math.floor(k / columns), k % columns);
      squares += error ** 2;
      chi += (error / map.u[k]) ** 2;
      count++;
    }
    expect(count).toBeGreaterThan(1000);
    expect(Math.sqrt(squares / count)).toBeLessThan(0.002);
    expect(chi / count).toBeLessThan(1.3);
    expect(chi / count).toBeGreaterThan(0.7);
  });

  test('noise is found within 3 %', () => {
    expect(map.noise / 0.005).toBeGreaterThan(0.97);
    expect(map.noise / 0.005).toBeLessThan(1.03);
  });

  test('strays are listed, good points are not', () => {
    const strays = new Set<number>();
    for (let i = 0; i < scan.surfacePoints; i++) if (Math.abs(scan.added[i]) > 0.1) strays.add(i);
    const found = map.outliers.filter((i) => strays.has(i)).length;
    expect(found).toBeGreaterThan(0.97 * scan.outlierCount);
    expect(map.outliers.length - found).toBeLessThan(0.02 * scan.outlierCount + 3);
    for (const i of map.outliers) expect(relation.flag[i]).toBe(POINT_OUTLIER);
  });

  test('the shadow is not measured and the coverage is right within 1 %', () => {
    const total = map.cells.area.reduce((sum, a) => sum + a, 0);
    const full = makeScan({ blade, points: 40_000, seed: 8 });
    const hidden = makeScan({ blade, points: 40_000, seed: 8, shadows: [shadow] });
    expect(full.surfacePoints).toBe(hidden.surfacePoints);
    let inShadow = 0;
    for (let i = 0; i < full.surfacePoints; i++) {
      const t = full.t[i];
      const z = full.height[i];
      if (full.piece[i] === SUCTION && t >= 0.4 && t <= 0.6 && z >= 50 && z <= 70) inShadow++;
    }
    expect(total).toBeGreaterThan(5000);
    expect(map.coverage).toBeCloseTo(1 - inShadow / full.surfacePoints, 1.7);
    const row = map.cells.heights.findIndex((h) => h > 60);
    expect(map.map.deviation[row].filter((d) => d === null).length).toBeGreaterThan(8);
  });

  test('statistics follow the map', () => {
    const numbers = deviationStatistics(map);
    expect(numbers.percentiles.p1).toBeGreaterThanOrEqual(numbers.min);
    expect(numbers.percentiles.p50).toBeLessThan(numbers.percentiles.p95);
    expect(numbers.max).toBeGreaterThanOrEqual(numbers.percentiles.p99);
    expect(numbers.rms ** 2).toBeGreaterThan(numbers.mean ** 2);
  });
});
