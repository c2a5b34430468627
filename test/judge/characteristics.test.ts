import { describe, expect, test } from 'vitest';
import { countText, partAnswer, sectionsAnswer } from '../../src/judge/answers.ts';
import { CATALOGUE } from '../../src/judge/catalogue.ts';
import { judgeCharacteristics } from '../../src/judge/characteristics.ts';
import { overallVerdict } from '../../src/judge/overall-verdict.ts';
import { planOf } from '../../src/judge/read-plan.ts';
import type { PlanCharacteristic } from '../../src/model/plan.ts';
import type { Characteristic, SectionResult } from '../../src/model/results.ts';
import { unmeasured } from '../../src/model/value.ts';
import { exampleMeasures } from '../support/example-measures.ts';
import { exampleResults } from '../support/example-results.ts';

const EXACT = { shift: 0, noseShift: 0, u: 0.001, missing: false };

function section(id: string, change: Partial<typeof EXACT> = {}): SectionResult {
  return {
    id,
    height: Number(id) * 10,
    coverage: 1,
    nominal: exampleMeasures(1, 0, EXACT),
    measured: exampleMeasures(1, 0, { ...EXACT, ...change }),
  };
}

function rowsOf(
  characteristics: PlanCharacteristic[],
  sections = [section('1'), section('2')],
  extra = {},
): Characteristic[] {
  const plan = planOf({ schema: 'camberwright/plan', schemaVersion: 1, characteristics, ...extra }, 'p.json');
  return judgeCharacteristics(sections, null, [], plan, 'best-fit');
}

describe('requirements', () => {
  test('amounts count from the nominal blade, absolute limits stand', () => {
    const [plain, own, absolute] = rowsOf(
      [
        { of: 'chordFar', plus: 0.1, minus: 0.2 },
        { of: 'chordFar', nominal: 30, plus: 0.1, minus: 0.2 },
        { of: 'chordFar', lower: 1 },
      ],
      [section('1', { shift: 0.05 })],
    );
    expect(plain.requirement).toMatchObject({ nominal: 35.002014, unit: 'mm' });
    expect(plain.requirement.lower).toBeCloseTo(34.802014, 12);
    expect(plain.requirement.upper).toBeCloseTo(35.102014, 12);
    expect(plain.deviation).toBeCloseTo(0.05, 12);
    expect(plain).toMatchObject({ verdict: 'pass', outOfTolerance: 0, alignment: 'none', id: 'chordFar@1' });
    expect(own).toMatchObject({ verdict: 'fail' });
    expect(own.outOfTolerance).toBeCloseTo(4.952014, 9);
    expect(absolute.requirement).toMatchObject({ nominal: 35.002014, lower: 1, upper: null });
  });

  test('amounts without a nominal value prove nothing', () => {
    const { nominal: _, ...alone } = section('1');
    expect(rowsOf([{ of: 'area', plus: 1, minus: 1 }], [alone])[0]).toMatchObject({
      verdict: 'not-proven',
      requirement: { nominal: null, lower: null, upper: null },
    });
  });

  test('displacement is about zero', () => {
    const moved = {
      ...section('1'),
      displacementX: { ...section('1').measured!.chordFar, value: 0.2, definition: 'DISP' },
    };
    expect(rowsOf([{ of: 'displacementX', plus: 0.1, minus: 0.1 }], [moved])[0]).toMatchObject({
      requirement: { nominal: 0, lower: -0.1, upper: 0.1 },
      verdict: 'fail',
      deviation: 0.2,
      alignment: 'best-fit',
    });
  });

  test('values of lists are found by their place', () => {
    const [row, missing] = rowsOf(
      [
        { of: 'leadingEdge.thicknessAt', at: 2, lower: 1.5, upper: 1.7 },
        { of: 'leadingEdge.thicknessAt', at: 3, lower: 1.5 },
      ],
      [section('1')],
    );
    expect(row).toMatchObject({ id: 'leadingEdge.thicknessAt(2)@1', value: 1.6, verdict: 'pass' });
    expect(missing).toMatchObject({ value: null, verdict: 'not-measured' });
    expect(missing.reason).toContain('not asked for');
  });
});

describe('verdicts', () => {
  test('position waits for datums; form does not', () => {
    const rows = rowsOf(
      [
        { of: 'centroidX', plus: 1, minus: 1 },
        { of: 'staggerFarDeg', plus: 1, minus: 1 },
        { of: 'chordFar', plus: 1, minus: 1 },
      ],
      [section('1')],
      { datums: ['A'] },
    );
    expect(rows.map((row) => row.verdict)).toEqual(['not-proven', 'not-proven', 'pass']);
    expect(rows[0].reason).toContain('datums');
  });

  test('low coverage forbids a pass where the plan sets a share, a fail stays', () => {
    const sparse = [
      { ...section('1'), coverage: 0.9 },
      { ...section('2', { shift: 5 }), coverage: 0.9 },
    ];
    const item = [{ of: 'chordFar', plus: 0.1, minus: 0.1 }];
    expect(rowsOf(item, sparse, { minCoverage: 0.95 }).map((row) => row.verdict)).toEqual(['not-measured', 'fail']);
    expect(rowsOf(item, sparse).map((row) => row.verdict)).toEqual(['pass', 'fail']);
  });

  test('statuses of the value', () => {
    const gone = section('1', { missing: true });
    gone.measured!.chordBitangent = unmeasured('not-applicable', 'Biconvex.', 'mm', 'CH-BT');
    gone.measured!.area = unmeasured('not-converged', 'No end.', 'mm2', 'AREA');
    gone.measured!.chordFar.u = null;
    const rows = rowsOf(
      [
        { of: 'thicknessMax', lower: 1 },
        { of: 'chordBitangent', lower: 1 },
        { of: 'area', lower: 1 },
        { of: 'chordFar', lower: 1 },
        { of: 'chordAxial' },
      ],
      [gone],
    );
    expect(rows.map((row) => row.verdict)).toEqual([
      'not-measured',
      'not-applicable',
      'not-measured',
      'not-proven',
      'no-limit',
    ]);
    expect(rows.slice(0, 4).every((row) => row.reason)).toBe(true);
  });

  test('the equipment enters by its effect', () => {
    const point = 0.01;
    const rows = rowsOf(
      [{ of: 'leadingEdge.radiusNose' }, { of: 'chordFar' }, { of: 'staggerFarDeg' }, { of: 'area' }],
      [section('1')],
      { uncertainty: { equipment: point } },
    );
    const u = 0.001;
    const angle = ((Math.SQRT2 * point) / 35.002014) * (180 / Math.PI);
    expect(rows.map((row) => row.u)).toEqual([
      expect.closeTo(Math.hypot(2 * u, point), 12),
      expect.closeTo(Math.hypot(u, Math.SQRT2 * point), 12),
      expect.closeTo(Math.hypot(5 * u, angle), 12),
      expect.closeTo(Math.hypot(2 * u, 72.586095 * point), 12),
    ]);
  });

  test('without a plan every main quantity is listed without limit', () => {
    const rows = judgeCharacteristics([section('1'), section('2')], null, [], null, 'best-fit');
    expect(rows).toHaveLength(2 * CATALOGUE.filter((entry) => entry.main && entry.scope === 'section').length);
    expect(new Set(rows.map((row) => row.id)).size).toBe(rows.length);
    expect(rows.map((row) => row.number)).toEqual(rows.map((_, i) => i + 1));
    expect(rows.filter((row) => row.value !== null).every((row) => row.verdict === 'no-limit')).toBe(true);
  });
});

test('numbers of the drawing are kept, the rest counts on', () => {
  const rows = rowsOf([{ of: 'chordFar', number: 11 }, { of: 'area' }, { of: 'bow', upper: 1 }]);
  expect(rows.map((row) => row.number)).toEqual([11, 11, 12, 13, 14]);
  expect(rows[4]).toMatchObject({ section: null, verdict: 'not-measured' });
});

test('named sections only', () => {
  expect(rowsOf([{ of: 'chordFar', sections: ['2'] }]).map((row) => row.section)).toEqual(['2']);
});

describe('answers', () => {
  const row = (verdict: Characteristic['verdict'], extra: Partial<Characteristic> = {}): Characteristic => ({
    ...rowsOf([{ of: 'chordFar', plus: 0.1 }], [section('1')])[0],
    verdict,
    ...extra,
  });

  test('counts and names the fail with limit and U', () => {
    const fail = row('fail', {
      name: 'Leading-edge radius',
      section: '4',
      value: 0.186,
      u: 0.004,
      requirement: { nominal: 0.25, lower: 0.2, upper: 0.3, unit: 'mm' },
    });
    const rows = [
      ...Array.from({ length: 26 }, () => row('pass')),
      fail,
      row('not-proven'),
      row('not-proven'),
      row('not-measured'),
    ];
    expect(sectionsAnswer(rows)).toEqual({
      text:
        '26 of 30 pass, 1 fails, 2 not proven, 1 not measured. ' +
        'Fails: leading-edge radius, section 4 (0.186 mm, lower limit 0.200 mm, U 0.008 mm).',
      verdict: 'fail',
    });
  });

  test('all pass, many fail, none limited', () => {
    expect(sectionsAnswer([row('pass'), row('no-limit')])).toEqual({ text: 'All 1 pass.', verdict: 'pass' });
    const many = sectionsAnswer(Array.from({ length: 5 }, () => row('fail')));
    expect(many.text).toContain('0 of 5 pass, 5 fail. Fails: ');
    expect(many.text).toContain('; and 2 more.');
    expect(sectionsAnswer([row('no-limit')]).verdict).toBe('no-limit');
    expect(countText(['pass', 'not-measured'])).toBe('1 of 2 pass, 1 not measured');
  });

  test('gravest verdict', () => {
    expect(overallVerdict(['pass', 'not-proven', 'not-measured'])).toBe('not-measured');
    expect(overallVerdict(['pass', 'no-limit'])).toBe('pass');
    expect(overallVerdict([])).toBe('no-limit');
  });

  test('the part answer says share, extremes and places', () => {
    const { deviation, characteristics } = exampleResults();
    const { text, verdict } = partAnswer(deviation!, characteristics!);
    expect(text).toMatch(
      /^98\.9 % of the surface is measured\. Least material −0\.\d{3} mm at height 22\.5 mm, pressure side; most \+0\.\d{3} mm at height 43\.5 mm, suction side\./,
    );
    expect(text).toContain('Zones: 1 of 4 pass, 3 fail.');
    expect(verdict).toBe('fail');
  });
});
