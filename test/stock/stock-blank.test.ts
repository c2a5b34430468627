import { beforeAll, expect, test } from 'vitest';
import { FORGED_STOCK, makeBlank } from '../../samples/blank.ts';
import { makeMesh } from '../../samples/tessellate.ts';
import { identityPose } from '../../src/math/rigid.ts';
import { relatePoints } from '../../src/relate/relate-points.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { stockCells } from '../../src/stock/stock-cells.ts';
import { type StockRecord, stockRecord } from '../../src/stock/stock-record.ts';
import { stockZones } from '../../src/stock/stock-zones.ts';
import { exactTarget } from '../support/exact-nominal.ts';

const ROWS = 301;
const COLUMNS = 560;
let record: StockRecord;
/** Nodes of the finished blade and of the blank over them. */
let finished: Float64Array;
let blank: Float64Array;

beforeAll(async () => {
  const target = exactTarget();
  const { surface } = target;
  finished = makeMesh({ rows: ROWS, columns: COLUMNS }).positions;
  // The nodes of the rows; those of the end faces are among them.
  blank = makeBlank({ rows: ROWS, columns: COLUMNS }).positions;
  const relation = await relatePoints(target, blank, identityPose(), { gate: 3 }, {});
  const map = surfaceMap(surface, relation, MAP_DEFAULTS);
  const zones = stockZones(null, surface, { leading: 2.25, trailing: 2.25 });
  record = stockRecord({ surface, map, cells: stockCells(surface, relation, map, zones.reaches), zones, plan: null });
}, 60_000);

/** Volume between the two node grids: over each quad ∫ a · (area grown to s) ds, quadratic in s, by Simpson's rule. */
function volumeBetween(): number {
  const ring = finished.length / 3 / ROWS;
  const at = (s: number, i: number, axis: number) => (1 - s) * finished[3 * i + axis] + s * blank[3 * i + axis];
  let volume = 0;
  for (let r = 0; r + 1 < ROWS; r++) {
    for (let c = 0; c < ring; c++) {
      const corners = [
        r * ring + c,
        r * ring + ((c + 1) % ring),
        (r + 1) * ring + ((c + 1) % ring),
        (r + 1) * ring + c,
      ];
      const reach = [0, 1, 2].map(
        (k) => corners.reduce((sum, i) => sum + blank[3 * i + k] - finished[3 * i + k], 0) / 4,
      );
      for (const [s, weight] of [
        [0, 1 / 6],
        [0.5, 4 / 6],
        [1, 1 / 6],
      ]) {
        const [p, q] = [
          [corners[2], corners[0]],
          [corners[3], corners[1]],
        ].map(([b, a]) => [0, 1, 2].map((k) => at(s, b, k) - at(s, a, k)));
        const cross = [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]];
        volume += (weight * (cross[0] * reach[0] + cross[1] * reach[1] + cross[2] * reach[2])) / 2;
      }
    }
  }
  return volume;
}

test('the volume to remove is that between blank and finished blade within 0.1 %', () => {
  const truth = volumeBetween();
  expect(truth).toBeGreaterThan(5000);
  expect(record.volumeMm3.value! / truth).toBeGreaterThan(0.999);
  expect(record.volumeMm3.value! / truth).toBeLessThan(1.001);
  const parts = record.zones.reduce((sum, { volumeMm3 }) => sum + volumeMm3.value!, 0);
  expect(parts).toBeCloseTo(record.volumeMm3.value!, 6);
});

test('the hollow without stock is found with its place, depth and size', () => {
  const { flank, flankTaper, sideways, hollow, span } = FORGED_STOCK;
  const least = flank + (flankTaper * hollow.height) / span - sideways - hollow.depth;
  expect(Math.abs(record.least.value! - least)).toBeLessThan(0.005);
  expect(record.least.place).toMatchObject({ side: 'suction' });
  expect(Math.abs(record.least.place!.height - hollow.height)).toBeLessThan(1);
  expect(record.areas).toHaveLength(1);
  // Nodes tell stock and area too: each stands for the quads about it.
  const ring = finished.length / 3 / ROWS;
  let area = 0;
  for (let r = 0; r + 1 < ROWS; r++) {
    for (let c = 0; c < ring; c++) {
      const [a, b, d] = [r * ring + c, r * ring + ((c + 1) % ring), (r + 1) * ring + c];
      const [p, q] = [b, d].map((i) => [0, 1, 2].map((k) => finished[3 * i + k] - finished[3 * a + k]));
      const size = Math.hypot(p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]);
      area += size * lackingPart([a, b, d, (r + 1) * ring + ((c + 1) % ring)]);
    }
  }
  expect(area).toBeGreaterThan(10);
  expect(record.areas[0].areaMm2 / area).toBeGreaterThan(0.95);
  expect(record.areas[0].areaMm2 / area).toBeLessThan(1.05);
});

/** Part of a quad below zero stock, bilinear between its nodes a, b (next column), d (next row) and e. */
function lackingPart(nodes: number[]): number {
  const stock = nodes.map((i) => Math.hypot(...reachOf(i)) * outwards(nodes[0], reachOf(i)));
  let below = 0;
  for (let i = 0; i < 10; i++)
    for (let j = 0; j < 10; j++) {
      const [x, y] = [(i + 0.5) / 10, (j + 0.5) / 10];
      const value = (1 - y) * ((1 - x) * stock[0] + x * stock[1]) + y * ((1 - x) * stock[2] + x * stock[3]);
      if (value < 0) below++;
    }
  return below / 100;
}

const reachOf = (i: number): number[] => [0, 1, 2].map((k) => blank[3 * i + k] - finished[3 * i + k]);

/** +1 where a vector points out of the finished blade at a node, −1 where it points in. */
function outwards(node: number, vector: number[]): number {
  const ring = finished.length / 3 / ROWS;
  const next = node - (node % ring) + ((node + 1) % ring);
  const [p, q] = [next, node + ring].map((i) => [0, 1, 2].map((k) => finished[3 * i + k] - finished[3 * node + k]));
  const normal = [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]];
  return Math.sign(normal[0] * vector[0] + normal[1] * vector[1] + normal[2] * vector[2]);
}
