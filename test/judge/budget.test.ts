import { describe, expect, test } from 'vitest';
import { rootSum, uncertaintyOf } from '../../src/judge/budget.ts';
import type { Effect } from '../../src/judge/catalogue.ts';
import { judgeCharacteristics } from '../../src/judge/characteristics.ts';
import { decide } from '../../src/judge/decide.ts';
import { profileValue } from '../../src/judge/profile-value.ts';
import { planOf } from '../../src/judge/read-plan.ts';
import { sizeOf } from '../../src/judge/sizes.ts';
import type { Plan } from '../../src/model/plan.ts';
import type { SectionResult } from '../../src/model/results.ts';
import { measured } from '../../src/model/value.ts';
import { exampleMeasures } from '../support/example-measures.ts';

const plan = (uncertainty: Plan['uncertainty'], characteristics: Plan['characteristics'] = []): Plan =>
  planOf({ schema: 'camberwright/plan', schemaVersion: 1, uncertainty, characteristics }, 'p.json');

const CHORD = 35;
const PERIMETER = 72.6;
const SIZE = { chord: CHORD, perimeter: PERIMETER, momentGain: 500 };

describe('a tip radius in error by dr', () => {
  const dr = 0.003;
  test.each<[Effect, number]>([
    ['thickness', 2 * dr],
    ['radius', dr],
    ['profile', dr],
    ['profile-width', 2 * dr],
    ['gap', 2 * dr],
    ['area', PERIMETER * dr],
    ['perimeter', 2 * Math.PI * dr],
    ['second-moment', 500 * dr],
    ['angle', 0],
    ['middle', 0],
    ['motion', 0],
    ['height', 0],
  ])('%s', (effect, part) => {
    const { u, budget } = uncertaintyOf(10, 0.004, effect, SIZE, plan({ tipRadius: dr }));
    expect(budget).toEqual({ random: 0.004, tipRadius: expect.closeTo(part, 12) });
    expect(u).toBeCloseTo(Math.hypot(0.004, part), 12);
  });

  test('an offset outline gains as much: ring of radii r + dr, closed forms', () => {
    const r = 5;
    const grown = r + dr;
    const gain = (effect: Effect, value: number, size = SIZE) =>
      uncertaintyOf(value, 0, effect, size, plan({ tipRadius: dr })).budget!.tipRadius;
    expect(gain('thickness', 2 * r)).toBeCloseTo(2 * grown - 2 * r, 12);
    expect(gain('perimeter', 2 * Math.PI * r)).toBeCloseTo(2 * Math.PI * (grown - r), 12);
    // First order: the next term is π dr².
    const area = gain('area', Math.PI * r * r, { ...SIZE, perimeter: 2 * Math.PI * r });
    expect(area).toBeCloseTo(Math.PI * (grown ** 2 - r ** 2) - Math.PI * dr * dr, 12);
  });
});

describe('temperature', () => {
  test.each([
    [8.6e-6, 0.0039],
    [13e-6, 0.0059],
  ])('150 mm at %s per K and 3 K', (expansion, printed) => {
    const { budget } = uncertaintyOf(150, 0, 'thickness', SIZE, plan({ temperature: { expansion, u: 3 } }));
    expect(budget!.temperature).toBeCloseTo(150 * expansion * 3, 15);
    expect(budget!.temperature.toFixed(4)).toBe(printed.toFixed(4));
  });

  test('areas grow twice, second moments four times as fast, angles not; places by half the chord', () => {
    const part = (effect: Effect, value: number) =>
      uncertaintyOf(value, 0, effect, SIZE, plan({ temperature: { expansion: 1e-5, u: 2 } })).budget!.temperature;
    expect(part('area', 90)).toBeCloseTo(2 * 90 * 2e-5, 15);
    expect(part('second-moment', 114)).toBeCloseTo(4 * 114 * 2e-5, 15);
    expect(part('angle', 20)).toBe(0);
    expect(part('motion', 0)).toBeCloseTo((CHORD / 2) * 2e-5, 15);
    expect(part('profile-width', 0.1)).toBeCloseTo(CHORD * 2e-5, 15);
  });
});

describe('the parts together', () => {
  const all = plan({ equipment: 0.002, tipRadius: 0.001, temperature: { expansion: 1e-5, u: 2 } });

  test('are kept apart and add by squares', () => {
    const { u, budget } = uncertaintyOf(CHORD, 0.003, 'thickness', SIZE, all);
    expect(budget).toEqual({
      random: 0.003,
      equipment: expect.closeTo(Math.SQRT2 * 0.002, 12),
      tipRadius: expect.closeTo(0.002, 12),
      temperature: expect.closeTo(CHORD * 2e-5, 12),
    });
    expect(u).toBeCloseTo(Math.sqrt(0.003 ** 2 + 2 * 0.002 ** 2 + 0.002 ** 2 + (CHORD * 2e-5) ** 2), 12);
    expect(rootSum(budget!)).toBe(u);
  });

  test('one part unknown makes the whole unknown', () => {
    expect(uncertaintyOf(1, null, 'thickness', SIZE, all)).toEqual({ u: null });
    expect(uncertaintyOf(1, 0.001, 'area', { ...SIZE, perimeter: null }, all)).toEqual({ u: null });
    expect(uncertaintyOf(1, 0.001, 'area', { ...SIZE, perimeter: null }, plan({})).u).toBe(0.001);
  });

  test('stand in the row beside the random part of the value', () => {
    const measures = exampleMeasures(1, 0, { shift: 0, noseShift: 0, u: 0.001, missing: false });
    const section: SectionResult = { id: '1', height: 10, coverage: 1, nominal: measures, measured: measures };
    const own = plan(all.uncertainty, [{ of: 'chordFar', plus: 0.1, minus: 0.1 }, { of: 'twistFitDeg' }]);
    const [chord] = judgeCharacteristics([section], null, [], own, 'best-fit');
    expect(measures.chordFar.u).toBe(chord.budget!.random);
    expect(chord.u).toBe(rootSum(chord.budget!));
    expect(chord.u).toBeGreaterThan(measures.chordFar.u!);
  });
});

test('a second moment gains its product of distances round the outline: a circle, closed form', () => {
  const r = 3;
  const places = Array.from({ length: 2000 }, (_, i) => (2 * Math.PI * i) / 2000);
  const outline = {
    x: places.map((a) => 7 + r * Math.cos(a)),
    y: places.map((a) => r * Math.sin(a) - 2),
    along: places,
  };
  const plot = { nominal: null, measured: outline, camber: null, along: [], deviation: [], u: [] };
  const section: SectionResult = { id: '1', height: 0, coverage: 1, plot };
  const evidence = { centroidX: 7, centroidY: -2, axisDeg: 0 };
  // I = π r⁴ / 4, dI/dr = π r³.
  for (const id of ['I-XX', 'I-YY', 'I-1', 'I-2'])
    expect(sizeOf(section, measured(1, 0, 'mm4', id, { evidence })).momentGain).toBeCloseTo(Math.PI * r ** 3, 3);
  expect(sizeOf(section, measured(1, 0, 'mm4', 'I-XY', { evidence })).momentGain).toBeCloseTo(0, 9);
});

describe('worked numbers of profile and decision', () => {
  test('-0.08 … +0.17 in -0.10/+0.20 is 0.26 wide, against 0.34 about the nominal', () => {
    expect(profileValue(-0.08, 0.17, { plus: 0.2, minus: 0.1 })).toBeCloseTo(0.26, 12);
    expect(profileValue(-0.08, 0.17, { plus: 0.17, minus: 0.17 })).toBeCloseTo(0.34, 12);
  });

  test('±0.1 with u = 0.004: accept within ±0.0934, reject beyond ±0.1066', () => {
    const verdict = (value: number) => decide(value, 0.004, -0.1, 0.1).verdict;
    expect([0.0934, 0.09341, 0.1066, 0.10661].map(verdict)).toEqual(['pass', 'not-proven', 'not-proven', 'fail']);
    expect([-0.0934, -0.09341, -0.1066, -0.10661].map(verdict)).toEqual(['pass', 'not-proven', 'not-proven', 'fail']);
  });

  test('a width of 0.30 with u(d) = 0.004, so u(V) = 0.008: accept up to 0.2868', () => {
    const { u } = uncertaintyOf(0.28, 0, 'profile-width', SIZE, plan({ tipRadius: 0.004 }));
    expect(u).toBeCloseTo(0.008, 15);
    expect(decide(0.2868, u, null, 0.3).verdict).toBe('pass');
    expect(decide(0.28681, u, null, 0.3).verdict).toBe('not-proven');
  });
});

test('the nominal chord is the lever of an angle where the measured chord is missing', () => {
  const nominal = exampleMeasures(1, 0, { shift: 0, noseShift: 0, u: 0.002, missing: false });
  const chordFar = { ...nominal.chordFar, value: null, status: 'not-measured' as const, reason: 'No points.' };
  const section: SectionResult = { id: 'S', height: 0, coverage: 0.9, nominal, measured: { ...nominal, chordFar } };
  expect(sizeOf(section, null).chord).toBe(nominal.chordFar.value);
});
