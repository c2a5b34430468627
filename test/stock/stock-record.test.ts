import { beforeAll, describe, expect, test } from 'vitest';
import { planOf } from '../../src/judge/read-plan.ts';
import type { Plan } from '../../src/model/plan.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';
import { stockCells } from '../../src/stock/stock-cells.ts';
import { type StockRecord, stockRecord } from '../../src/stock/stock-record.ts';
import { ELSEWHERE, stockZones } from '../../src/stock/stock-zones.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { type Field, type RelationOptions, relationOf } from './synthetic-relation.ts';

const { surface } = exactTarget();
const REACH = { leading: 2.25, trailing: 2.25 };

function plan(stock: Plan['stock'], extra: Partial<Plan> = {}): Plan {
  return planOf({ schema: 'camberwright/plan', schemaVersion: 1, stock, ...extra }, 'p.json');
}

function recordOf(field: Field, options: RelationOptions, asked: Plan | null, cell = MAP_DEFAULTS.cell): StockRecord {
  const relation = relationOf(surface, field, options);
  const map = surfaceMap(surface, relation, { ...MAP_DEFAULTS, cell });
  const zones = stockZones(asked, surface, REACH);
  return stockRecord({ surface, map, cells: stockCells(surface, relation, map, zones.reaches), zones, plan: asked });
}

/** Area where a field is below a level, by sampling the surface (mm²). */
function areaBelow(field: Field, level: number): number {
  const place = new Float64Array(PLACE_SIZE);
  const { columns } = surface;
  const [low, whole] = [columns[0], columns[columns.length - 1] - columns[0]];
  const [across, up] = [2000, 600];
  let area = 0;
  for (let i = 0; i < across; i++) {
    for (let j = 0; j < up; j++) {
      const [u, z] = [low + ((i + 0.5) / across) * whole, ((j + 0.5) / up) * 120];
      if (!(field(u, z) < level)) continue;
      evaluateSurface(surface, u, z, place);
      area += Math.hypot(place[4], place[3], place[3] * place[7] - place[4] * place[6]);
    }
  }
  return (area * whole * 120) / (across * up);
}

describe('a hollow that lacks stock, 10 µm noise, 400,000 points', () => {
  /** 0.3 mm with a slope along the span, and a hollow of 0.4 mm on the suction side. */
  const field: Field = (u, z) => 0.3 - z / 3000 - 0.4 * Math.exp(-(((u + 18) / 5) ** 2) - ((z - 60) / 7) ** 2);
  const asked = plan(
    { affectedLayer: 0.03, minimumChip: 0.02, locating: 0.01 },
    { zones: [{ name: 'all', side: 'all', plus: 1, minus: 0.06 }] },
  );
  let record: StockRecord;

  beforeAll(() => {
    record = recordOf(field, { points: 400_000, noise: 0.01 }, asked);
  });

  test('least stock is within 5 µm of the closed form, at its place, the bias of the extreme taken off', () => {
    let least = Number.POSITIVE_INFINITY;
    for (let u = -20; u < -16; u += 0.01) for (let z = 57; z < 63; z += 0.02) least = Math.min(least, field(u, z));
    expect(Math.abs(record.least.value! - least)).toBeLessThan(0.005);
    expect(record.least.evidence!.bias).toBeLessThan(0);
    expect(record.least.place).toMatchObject({ side: 'suction' });
    expect(Math.abs(record.least.place!.height - 60)).toBeLessThan(1.5);
    expect(Math.abs(record.least.place!.along + 18)).toBeLessThan(1.5);
  });

  test('one area is short, its size within 5 %, as deep and as high as it is', () => {
    expect(record.areas).toHaveLength(1);
    const [area] = record.areas;
    const truth = areaBelow(field, 0.06);
    expect(area.areaMm2 / truth).toBeGreaterThan(0.95);
    expect(area.areaMm2 / truth).toBeLessThan(1.05);
    expect(area.kind).toBe('lack');
    expect(area.depth).toBeCloseTo(0.06 - record.least.value!, 6);
    // Along the span through the middle: 0.3 − z/3000 − 0.4 exp(−((z − 60)/7)²) = 0.06, by bisection.
    const border = (a: number, b: number): number => {
      let [low, high] = [a, b];
      for (let i = 0; i < 60; i++) {
        const middle = (low + high) / 2;
        if (field(-18, middle) < 0.06 === field(-18, a) < 0.06) low = middle;
        else high = middle;
      }
      return low;
    };
    expect(Math.abs(area.fromHeight - border(60, 40))).toBeLessThan(0.6);
    expect(Math.abs(area.toHeight - border(60, 80))).toBeLessThan(0.6);
  });

  test('classes part the surface by closed form', () => {
    const { lackMm2, withinBandMm2, thinMm2, enoughMm2, notMeasuredMm2 } = record.classes;
    const [lack, none, thin] = [-0.06, 0, 0.06].map((level) => areaBelow(field, level));
    expect(Math.abs(lackMm2 / lack - 1)).toBeLessThan(0.08);
    expect(Math.abs((lackMm2 + withinBandMm2) / none - 1)).toBeLessThan(0.05);
    const short = lackMm2 + withinBandMm2 + thinMm2;
    expect(Math.abs(short / thin - 1)).toBeLessThan(0.06);
    const whole = areaBelow(field, 10);
    expect((short + enoughMm2 + notMeasuredMm2) / whole).toBeCloseTo(1, 3);
  });

  test('the suction zone fails, the others pass; mean and percentiles follow the field', () => {
    const [zone] = record.zones;
    expect(record.zones).toHaveLength(1);
    expect(zone.verdict).toBe('fail');
    expect(zone.reason).toContain('Short of the 0.060 mm wanted by 0.');
    expect(zone.shortFraction! * zone.areaMm2).toBeCloseTo(record.areas[0].areaMm2, -1);
    expect(zone.percentiles!.p5).toBeLessThan(zone.percentiles!.p50);
    expect(zone.percentiles!.p95).toBeCloseTo(0.3, 1.9);
    expect(record.volumeMm3.value! / (record.mean.value! * zone.areaMm2)).toBeGreaterThan(1);
  });
});

test('of an even stock of 0.3 mm under 10 µm noise the least and most are 0.3 mm, whatever their raw extremes', () => {
  const record = recordOf(() => 0.3, { points: 300_000, noise: 0.01, seed: 7 }, null);
  for (const extreme of [record.least, record.most]) {
    expect(Math.abs(extreme.value! - 0.3)).toBeLessThan(0.004);
    expect(Math.abs((extreme.evidence!.raw as number) - 0.3)).toBeGreaterThan(0.005);
  }
  expect(record.mean.value).toBeCloseTo(0.3, 4);
});

describe('verdicts', () => {
  const even = (stock: number, asked: Plan | null, options: Partial<RelationOptions> = {}): StockRecord =>
    recordOf(() => stock, { points: 120_000, noise: 0.004, ...options }, asked, 1);
  const verdictsOf = (record: StockRecord) => record.zones.map(({ verdict }) => verdict);

  test('enough, not proven and short about a want of 0.1 mm', () => {
    expect(verdictsOf(even(0.12, plan({ affectedLayer: 0.1 })))).toEqual(['pass', 'pass', 'pass', 'pass']);
    expect(verdictsOf(even(0.1, plan({ affectedLayer: 0.1 })))).toEqual(Array(4).fill('not-proven'));
    expect(verdictsOf(even(0.08, plan({ affectedLayer: 0.1 })))).toEqual(Array(4).fill('fail'));
  });

  test('too much stock fails where the plan limits it', () => {
    const record = even(0.5, plan({ zones: [{ name: 'flank', side: 'suction', least: 0.1, most: 0.4 }] }));
    expect(record.zones.map(({ zone }) => zone)).toEqual(['flank', ELSEWHERE]);
    expect(record.zones[0]).toMatchObject({ verdict: 'fail', wanted: { least: 0.1, most: 0.4 } });
    expect(record.zones[0].reason).toContain('Over the 0.400 mm allowed by 0.1');
    expect(record.zones[1].verdict).toBe('pass');
  });

  test('what is not measured is never enough', () => {
    const hidden = (u: number, z: number) => u > 8 && u < 12 && z > 50 && z < 55;
    const record = even(0.3, plan({ affectedLayer: 0.1 }), { hidden });
    const bare = record.classes.notMeasuredMm2;
    expect(bare).toBeGreaterThan(10);
    expect(bare).toBeLessThan(26);
    const pressure = record.zones.find(({ zone }) => zone === 'pressure side')!;
    expect(pressure.verdict).toBe('not-measured');
    expect(pressure.reason).toContain('mm² about height 52.');
    expect(record.zones.filter(({ verdict }) => verdict === 'pass')).toHaveLength(3);
  });
});

test('a short area over the trailing edge is one area, over the leading edge too', () => {
  const ends = [surface.columns[0], surface.columns[surface.columns.length - 1]];
  const field: Field = (u, z) => {
    const across = Math.min(Math.abs(u), u - ends[0], ends[1] - u);
    return 0.2 - 0.3 * Math.exp(-((across / 2) ** 2) - ((z - (Math.abs(u) < 10 ? 40 : 80)) / 5) ** 2);
  };
  const record = recordOf(field, { points: 120_000, noise: 0.002 }, plan({ affectedLayer: 0.05 }), 1);
  expect(record.areas.map(({ place }) => place.side).sort()).toEqual(['leading-edge', 'trailing-edge']);
});
