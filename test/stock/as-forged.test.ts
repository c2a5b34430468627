import { expect, test } from 'vitest';
import { planOf } from '../../src/judge/read-plan.ts';
import type { Plan } from '../../src/model/plan.ts';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { asForged } from '../../src/stock/as-forged.ts';
import { stockCells } from '../../src/stock/stock-cells.ts';
import { stockScene } from '../../src/stock/stock-scene.ts';
import { stockZones } from '../../src/stock/stock-zones.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { type Field, type RelationOptions, relationOf } from './synthetic-relation.ts';

const { surface } = exactTarget();
const REACH = { leading: 2.25, trailing: 2.25 };
const BAND: Plan['zones'] = [
  { name: 'suction', side: 'suction', plus: 0.1, minus: 0.05 },
  { name: 'pressure', side: 'pressure', plus: 0.1, minus: 0.05 },
];

/** Verdict and reason of the suction side, of a field there with 5 µm noise. */
function suction(
  field: Field,
  limits: { waviness?: number; slope?: number } = {},
  extra: Partial<RelationOptions> = {},
) {
  return verdicts(field, { stock: { asForged: limits }, zones: BAND }, extra)('suction');
}

function verdicts(field: Field, wants: Partial<Plan>, extra: Partial<RelationOptions> = {}) {
  // Waves and slopes ask for the map's own cells; the band is held on stock cells, which larger ones make as well.
  const cell = wants.stock?.asForged?.waviness || wants.stock?.asForged?.slope ? MAP_DEFAULTS.cell : 1;
  const plan = planOf({ schema: 'camberwright/plan', schemaVersion: 1, ...wants }, 'p.json');
  const relation = relationOf(surface, field, { points: 120_000, noise: 0.004, ...extra });
  const map = surfaceMap(surface, relation, { ...MAP_DEFAULTS, cell });
  const zones = stockZones({ ...plan, zones: [] }, surface, REACH);
  const cells = stockCells(surface, relation, map, zones.reaches);
  const scene = stockScene({ surface, map, cells, zones, plan });
  return (side: string) =>
    asForged(
      scene,
      zones.reaches.findIndex((reach) => reach.side === side),
    );
}

test('flanks in, just in and out of the band; edges are finished; no limits, no verdict', () => {
  expect(suction(() => 0.05)).toMatchObject({ verdict: 'pass' });
  // The guard is 1.65 u, u about 1 µm: 3 µm inside is proven, on the limit is not, 4 µm outside fails.
  expect(suction(() => 0.096)).toMatchObject({ verdict: 'pass' });
  expect(suction(() => 0.1)).toMatchObject({ verdict: 'not-proven' });
  const out = suction((_u, z) => 0.05 + 0.054 * Math.exp(-(((z - 70) / 20) ** 2)));
  expect(out.verdict).toBe('fail');
  expect(out.reason).toMatch(
    /^\+0\.10\d mm at height (6|7)\d\.\d mm, suction side: beyond the upper profile limit \+0\.100 mm\.$/,
  );
  const under = suction(() => -0.06);
  expect(under.verdict).toBe('fail');
  expect(under.reason).toMatch(/^−0\.0(59|6\d) mm at height .* beyond the lower profile limit −0\.050 mm\.$/);
  const of = verdicts(() => 0.05, { zones: [BAND![0]] });
  expect(of('leading-edge')).toEqual({ verdict: 'not-applicable', reason: 'Edges are finished.' });
  expect(of('pressure').verdict).toBe('no-limit');
});

test('waves fail by their height between the cut-offs, not by the slow form under them', () => {
  const waves =
    (height: number): Field =>
    (u, z) =>
      0.03 + (z - 60) / 4000 + (height / 2) * Math.exp(-(((u + 19) / 9) ** 8)) * Math.sin((2 * Math.PI * u) / 4);
  const failed = suction(waves(0.04), { waviness: 0.02 });
  expect(failed.verdict).toBe('fail');
  // A wave of 4 mm passes the Gaussian band of 0.8 to 8 mm with T(0.8) (1 − T(8)) = 0.9727 × 0.9375 of its height.
  const passed = Math.exp(-Math.LN2 * 0.2 ** 2) * (1 - Math.exp(-Math.LN2 * 4));
  const told = Number(/Waves of (\d\.\d+) mm/.exec(failed.reason)![1]);
  expect(told / (0.04 * passed)).toBeGreaterThan(0.9);
  expect(told / (0.04 * passed)).toBeLessThan(1.1);
  expect(suction(waves(0.01), { waviness: 0.02 }).verdict).toBe('pass');
});

test('the slope of the stock along the surface is held', () => {
  const sloped =
    (slope: number): Field =>
    (_u, z) =>
      0.02 + slope * (z - 60);
  const one = suction((_u, z) => 0.02 + 0.02 * Math.tanh((z - 60) / 2), { slope: 0.005 });
  expect(one.verdict).toBe('fail');
  // Steepest mean slope over 2 mm: 0.02 × (tanh(0.5) − tanh(−0.5)) / 2.
  const told = Number(/of (0\.\d+): over the 0\.0050 allowed/.exec(one.reason)![1]);
  expect(told / (0.02 * Math.tanh(0.5))).toBeGreaterThan(0.85);
  expect(told / (0.02 * Math.tanh(0.5))).toBeLessThan(1.1);
  expect(suction(sloped(0.0005), { slope: 0.005 }).verdict).toBe('pass');
});

test('a flank that is not measured may not stay', () => {
  const hidden = (u: number, z: number) => u < -15 && u > -20 && z > 40 && z < 50;
  const { verdict, reason } = suction(() => 0.05, {}, { hidden });
  expect(verdict).toBe('not-measured');
  expect(reason).toMatch(/^A stretch of \d\d\.\d mm² about height 4\d\.\d mm is not measured/);
});
