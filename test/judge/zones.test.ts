import { describe, expect, test } from 'vitest';
import { calmField } from '../../src/judge/calm-field.ts';
import { erfc, expectedMaximum } from '../../src/judge/expected-maximum.ts';
import { extremeOf } from '../../src/judge/extremes.ts';
import { cellBorders, limitsFromZones, sideOf } from '../../src/judge/map-places.ts';
import { planOf } from '../../src/judge/read-plan.ts';
import { edgeReach, judgeZones, type ZoneMap } from '../../src/judge/zones.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { Plan } from '../../src/model/plan.ts';

const REACH = { leading: 2, trailing: 2 };

/** A map of 10 heights and positions −9.5 … 9.5, deviation from a function; unit areas. */
function flatMap(field: (height: number, along: number) => number | null, u: number | null = 0.001): ZoneMap {
  const along = Array.from({ length: 20 }, (_, j) => j - 9.5);
  const heights = Array.from({ length: 10 }, (_, i) => i + 0.5);
  const deviation = heights.map((h) => along.map((a) => field(h, a)));
  return {
    map: {
      heights,
      along: heights.map(() => along),
      deviation,
      u: deviation.map((row) => row.map((d) => (d === null ? null : u))),
    },
    area: new Float64Array(200).fill(1),
    points: Float64Array.from({ length: 600 }, (_, k) => k),
  };
}

const plan = (extra: Partial<Plan> = {}): Plan =>
  planOf(
    {
      schema: 'camberwright/plan',
      schemaVersion: 1,
      zones: [
        { name: 'nose', side: 'leading-edge', plus: 0.05, minus: 0.05 },
        { name: 'low suction', side: 'suction', to: 5, plus: 0.2, minus: 0.1 },
        { name: 'pressure', side: 'pressure', plus: 0.1, minus: 0.1 },
      ],
      ...extra,
    },
    'p.json',
  );

describe('places', () => {
  test('borders lie half way', () => {
    expect(cellBorders([0, 2, 3])).toEqual([-1, 1, 2.5, 3.5]);
    expect(cellBorders([4])).toEqual([3.5, 4.5]);
    expect(cellBorders([])).toEqual([]);
  });

  test.each([
    [0, 'leading-edge'],
    [-2, 'leading-edge'],
    [-2.01, 'suction'],
    [2.01, 'pressure'],
    [-8, 'trailing-edge'],
    [8, 'trailing-edge'],
    [-7.99, 'suction'],
  ] as const)('position %s is %s', (along, side) => {
    expect(sideOf(along, -10, 10, REACH)).toBe(side);
  });

  test('limits come from the first zone that holds the place', () => {
    const zones = judgeZones(
      flatMap(() => 0),
      plan(),
      REACH,
      null,
    );
    const at = limitsFromZones(zones);
    expect(at(2, 0, -10, 10)).toEqual({ lower: -0.05, upper: 0.05 });
    expect(at(2, -4, -10, 10)).toEqual({ lower: -0.1, upper: 0.2 });
    expect(at(8, -4, -10, 10)).toEqual({ lower: null, upper: null });
  });
});

describe('verdicts', () => {
  test('least and most with their places', () => {
    const field = (h: number, a: number) => (h === 3.5 && a === -4.5 ? 0.17 : h === 1.5 && a === -3.5 ? -0.08 : 0);
    const zone = judgeZones(flatMap(field, 0), plan(), REACH, 'best-fit')[1];
    expect(zone.most).toMatchObject({ value: 0.17, place: { height: 3.5, along: -4.5, side: 'suction' } });
    expect(zone.least).toMatchObject({ value: -0.08, place: { height: 1.5, along: -3.5 } });
    expect(zone.profileValue.value).toBeCloseTo(0.26, 12);
    expect(zone.verdict).toBe('pass');
    const cell = 3 * (3 * 20 + 5);
    expect(zone.most.place!.point).toEqual([cell, cell + 1, cell + 2]);
  });

  test('a gap forbids a pass, a fail stays a fail', () => {
    const gap = (h: number, a: number) => (h > 8 && a > 3 && a < 5 ? null : 0);
    const [nose, , pressure] = judgeZones(flatMap(gap), plan(), REACH, 'best-fit');
    expect(nose.verdict).toBe('pass');
    expect(pressure).toMatchObject({ verdict: 'not-measured', coverage: 1 - 4 / 60 });
    expect(pressure.reason).toContain('93.3 %');
    const failing = (h: number, a: number) => (h === 1.5 && a === 4.5 ? 0.5 : gap(h, a));
    expect(judgeZones(flatMap(failing), plan(), REACH, 'best-fit')[2].verdict).toBe('fail');
  });

  test('enough coverage is not enough where one stretch of over 1 mm² is missing', () => {
    const gap = (h: number, a: number) => (h > 8 && a > 3 && a < 5 ? null : 0);
    const inOnePlace = judgeZones(flatMap(gap), plan({ minCoverage: 0.9 }), REACH, 'best-fit')[2];
    expect(inOnePlace.verdict).toBe('not-measured');
    expect(inOnePlace.reason).toContain('4.0 mm² about height 9.0 mm');
    const apart = (h: number, a: number) => (a === 4.5 && [1.5, 3.5, 5.5, 7.5].includes(h) ? null : 0);
    const scattered = judgeZones(flatMap(apart), plan({ minCoverage: 0.9 }), REACH, 'best-fit')[2];
    expect(scattered).toMatchObject({ verdict: 'pass', coverage: 1 - 4 / 60 });
  });

  test('coverage counts area, not cells', () => {
    const zoneMap = flatMap((h) => (h > 9 ? null : 0));
    zoneMap.area.fill(9, 180);
    expect(judgeZones(zoneMap, null, REACH, null)[2].coverage).toBeCloseTo(9 / 18, 12);
  });

  test('the budget of the zone value is twice that of the extreme that governs it', () => {
    const stated = { equipment: 0.002, tipRadius: 0.003, temperature: { expansion: 1e-5, u: 2 } };
    const field = (_h: number, a: number) => (a > 3 && a < 6 ? 0.05 : 0);
    const zone = judgeZones(flatMap(field, 0.001), plan({ uncertainty: stated }), REACH, 'best-fit', 40)[2];
    const thermal = (40 / 2) * 2e-5;
    const u = Math.hypot(0.001, 0.002, 0.003, thermal);
    expect(zone.most.u).toBeCloseTo(u, 15);
    expect(zone.profileValue.u).toBeCloseTo(2 * u, 15);
    expect(zone.budget).toEqual({
      random: expect.closeTo(0.002, 15),
      equipment: expect.closeTo(0.004, 15),
      tipRadius: expect.closeTo(0.006, 15),
      temperature: expect.closeTo(2 * thermal, 15),
    });
    const unknown = judgeZones(flatMap(field, 0.001), plan({ uncertainty: stated }), REACH, 'best-fit')[2];
    expect(unknown.profileValue.u).toBeNull();
    expect(unknown.verdict).toBe('not-proven');
  });

  test('close to a limit and unknown uncertainty are not proven', () => {
    expect(
      judgeZones(
        flatMap((h, a) => (h === 4.5 && a === 0.5 ? 0.0495 : 0)),
        plan(),
        REACH,
        'best-fit',
      )[0].verdict,
    ).toBe('not-proven');
    expect(
      judgeZones(
        flatMap(() => 0, null),
        plan(),
        REACH,
        'best-fit',
      )[0].verdict,
    ).toBe('not-proven');
    const equipment = plan({ uncertainty: { equipment: 0.03 } });
    expect(
      judgeZones(
        flatMap(() => 0.01),
        plan(),
        REACH,
        'best-fit',
      )[0].verdict,
    ).toBe('pass');
    expect(
      judgeZones(
        flatMap(() => 0.01),
        equipment,
        REACH,
        'best-fit',
      )[0].verdict,
    ).toBe('not-proven');
  });

  test('datums wait for a datum placement', () => {
    const withDatums = plan({ datums: ['A', 'B', 'C'] });
    expect(
      judgeZones(
        flatMap(() => 0),
        withDatums,
        REACH,
        'best-fit',
      )[0],
    ).toMatchObject({ verdict: 'not-proven' });
    expect(
      judgeZones(
        flatMap(() => 0),
        withDatums,
        REACH,
        'given',
      )[0].verdict,
    ).toBe('pass');
  });

  test('without a plan there are four zones without limits', () => {
    const zones = judgeZones(
      flatMap(() => 0),
      null,
      REACH,
      'best-fit',
    );
    expect(zones.map((zone) => [zone.zone, zone.verdict])).toEqual([
      ['leading edge', 'no-limit'],
      ['trailing edge', 'no-limit'],
      ['suction side', 'no-limit'],
      ['pressure side', 'no-limit'],
    ]);
    expect(zones[0].profileValue.status).toBe('not-applicable');
    const cells = zones.map((zone) => (zone.most.evidence as { cells: number }).cells);
    expect(cells).toEqual([40, 40, 60, 60]);
  });

  test('a zone without a measured cell', () => {
    const zone = judgeZones(
      flatMap(() => null),
      plan(),
      REACH,
      'best-fit',
    )[0];
    expect(zone).toMatchObject({ verdict: 'not-measured', coverage: 0, least: { value: null, place: null } });
  });

  test('edge zones reach as far as the plan says', () => {
    expect(edgeReach(plan({ edgeZone: 3 }), [])).toEqual({ leading: 3, trailing: 3 });
  });
});

describe('extremes', () => {
  test('erfc', () => {
    expect(erfc(0)).toBeCloseTo(1, 6);
    expect(erfc(1)).toBeCloseTo(0.1572992070502851, 7);
    expect(erfc(-1)).toBeCloseTo(2 - 0.1572992070502851, 6);
  });

  test('expected maximum of two and of three equal normals is known in closed form', () => {
    // E max of 2: σ/√π; of 3: 1.5 σ/√π. Two of different spread: √(σ1²+σ2²)/√(2π).
    expect(expectedMaximum([5, 5], [2, 2])).toBeCloseTo(5 + 2 / Math.sqrt(Math.PI), 5);
    expect(expectedMaximum([0, 0, 0], [1, 1, 1])).toBeCloseTo(1.5 / Math.sqrt(Math.PI), 5);
    expect(expectedMaximum([0, 0], [1, 3])).toBeCloseTo(Math.sqrt(10 / (2 * Math.PI)), 4);
    expect(expectedMaximum([0, 1], [0, 0])).toBe(1);
    expect(expectedMaximum([7], [0.5])).toBeCloseTo(7, 6);
  });

  test.each([
    ['flat', () => 0, 0],
    ['wave', (i: number, j: number) => 0.05 * Math.sin(i / 6) * Math.cos(j / 9), 0.05],
  ] as const)(
    'noise raises the highest cell of a %s field; the correction takes two thirds of it away (seed 11)',
    (_, field, top) => {
      const normal = normalFrom(seededRandom(11));
      const sigma = 0.002;
      let [raw, corrected] = [0, 0];
      const runs = 20;
      for (let run = 0; run < runs; run++) {
        const deviation = Array.from({ length: 30 }, (_row, i) =>
          Array.from({ length: 40 }, (_cell, j) => field(i, j) + sigma * normal()),
        );
        const u = deviation.map((row) => row.map(() => sigma));
        const cells = deviation.flatMap((row, i) => row.map((_cell, j): [number, number] => [i, j]));
        const extreme = extremeOf({ deviation, u }, calmField({ deviation, u }), cells, 1)!;
        raw += (extreme.raw - top) / runs;
        corrected += (extreme.value - top) / runs;
      }
      expect(raw).toBeGreaterThan(sigma);
      expect(Math.abs(corrected)).toBeLessThan(raw / 3);
    },
  );

  test('a single tall cell is not talked away', () => {
    const deviation = Array.from({ length: 15 }, (_row, i) =>
      Array.from({ length: 15 }, (_cell, j) => (i === 7 && j === 7 ? 0.1 : 0)),
    );
    const u = deviation.map((row) => row.map(() => 0.002));
    const cells = deviation.flatMap((row, i) => row.map((_cell, j): [number, number] => [i, j]));
    const extreme = extremeOf({ deviation, u }, calmField({ deviation, u }), cells, 1)!;
    expect(extreme.value).toBeCloseTo(0.1, 5);
  });
});
