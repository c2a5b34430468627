import { beforeAll, expect, test } from 'vitest';
import { nominalBlade } from '../../samples/blade.ts';
import { areaBelow } from '../../samples/blank-areas.ts';
import { shiftBlank } from '../../samples/blank-cases.ts';
import { makeBlankScan } from '../../samples/blank-scan.ts';
import { stockOnBlade } from '../../samples/blank-surface.ts';
import { distanceToBlade } from '../../samples/deviation.ts';
import { planOf } from '../../src/judge/read-plan.ts';
import { identityPose } from '../../src/math/rigid.ts';
import { relatePoints } from '../../src/relate/relate-points.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { type JoinedStockCells, stockCells } from '../../src/stock/stock-cells.ts';
import { type StockRecord, stockRecord } from '../../src/stock/stock-record.ts';
import { stockZones } from '../../src/stock/stock-zones.ts';
import { exactTarget } from '../support/exact-nominal.ts';

const WANTED = 0.36;
const blank = shiftBlank();
const blade = nominalBlade();
let cells: JoinedStockCells;
let record: StockRecord;

beforeAll(async () => {
  const target = exactTarget();
  const { surface } = target;
  const scan = makeBlankScan(blank, { points: 300_000, seed: 3, noise: 0.01, outliers: 0.0005 });
  const relation = await relatePoints(target, scan.cloud.positions, identityPose(), { gate: 4 }, {});
  const map = surfaceMap(surface, relation, MAP_DEFAULTS);
  const plan = planOf({ schema: 'camberwright/plan', schemaVersion: 1, stock: { affectedLayer: WANTED } }, 'p.json');
  const zones = stockZones(plan, surface, { leading: 2.25, trailing: 2.25 });
  cells = stockCells(surface, relation, map, zones.reaches);
  record = stockRecord({ surface, map, cells, zones, plan });
}, 60_000);

test('the stock of a scanned blank is known below 3 µm rms at 10 µm noise', () => {
  let [squares, count] = [0, 0];
  for (let k = 0; k < cells.count; k += 3) {
    if (Number.isNaN(cells.stock[k])) continue;
    const [x, y, z] = cells.point.subarray(3 * k, 3 * k + 3);
    squares += (cells.stock[k] - stockOnBlade(blank, blade, distanceToBlade(blade, x, y, z))) ** 2;
    count++;
  }
  expect(count).toBeGreaterThan(2000);
  expect(Math.sqrt(squares / count)).toBeLessThan(0.003);
});

test('its least stock is within 5 µm, at one of its thin spots', () => {
  expect(Math.abs(record.least.value! - blank.least)).toBeLessThan(0.005);
  const nearest = Math.min(...blank.spots.map(({ height }) => Math.abs(height - record.least.place!.height)));
  expect(nearest).toBeLessThan(3);
});

test('its thin spots are found as areas, their size together within 5 %', () => {
  expect(record.areas).toHaveLength(blank.spots.length);
  const found = record.areas.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
  const truth = areaBelow(blade, blank.field, WANTED);
  expect(found / truth).toBeGreaterThan(0.95);
  expect(found / truth).toBeLessThan(1.05);
  expect(record.zones.map(({ verdict }) => verdict)).toContain('fail');
});
