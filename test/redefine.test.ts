import { beforeAll, describe, expect, test } from 'vitest';
import { formAt, nominalBlade } from '../samples/blade.ts';
import { makeScan } from '../samples/scan.ts';
import { evenHeights, exactSections } from '../samples/tessellate.ts';
import { planOf } from '../src/judge/read-plan.ts';
import type { Plan, PlanDefinition } from '../src/model/plan.ts';
import { type InspectInput, type Inspection, inspect } from '../src/pipeline.ts';
import { measureOne, redefine } from '../src/redefine.ts';
import { resultsToJson } from '../src/report/results-json.ts';
import { loaded } from './support/loaded.ts';
import { withoutTiming } from './support/same-results.ts';

const IDENTITY = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1];
const HEIGHTS = [33, 63];
const scan = makeScan({ points: 60_000, noise: 0.003, seed: 4 });
const nominal = loaded(exactSections(evenHeights(21), 400), 'nominal.csv');
const measured = [loaded(scan.cloud, 'scan.ply')];

const PLAN: Plan = planOf(
  {
    schema: 'camberwright/plan',
    schemaVersion: 1,
    sections: { heights: HEIGHTS },
    characteristics: [
      { of: 'leadingEdge.radius', plus: 0.05, minus: 0.05 },
      { of: 'leadingEdge.radius', definition: 'R-OSC', plus: 0.1, minus: 0.1 },
      { of: 'chord', number: 7, plus: 0.05, minus: 0.05 },
      { of: 'leadingEdge.thickness', at: 1.5 },
      { of: 'thickness', at: 0.4, definition: 'T-CAM', sections: ['z63'] },
      { of: 'twist', parameters: { edges: 'excluded' } },
      { of: 'trailingEdge.profile', upper: 0.1 },
      { of: 'ixx' },
      { of: 'suctionSide.waviness', definition: 'WAVE-SLOPE' },
    ],
    uncertainty: { equipment: 0.001, tipRadius: 0.002 },
  },
  'plan.json',
);
const CHOICES: PlanDefinition[] = [
  { of: 'leadingEdge.radius', definition: 'R-SB', parameters: { setback: 0.3 } },
  { of: 'chord', definition: 'CH-CAM' },
];

const run = (extra: Partial<InspectInput>) =>
  inspect({ nominal, measured, pose: IDENTITY, settings: { mapCell: 6 }, ...extra }, {});
const file = (plan: Plan) => ({ name: 'plan.json', sha256: '0'.repeat(64), plan });
const comparable = (results: Inspection['results']) => withoutTiming(JSON.parse(resultsToJson(results)));

let inspected: Inspection;

beforeAll(async () => {
  inspected = await run({ plan: file(PLAN) });
}, 60_000);

test('rows carry definition, parameters and the parts of their uncertainty', () => {
  const { characteristics } = inspected.results;
  const row = (of: string, definition: string) =>
    characteristics!.find((one) => one.of === of && one.definition === definition)!;
  expect(row('leadingEdge.radius', 'R-LSQ')).toMatchObject({ parameters: { halfAngleDeg: 60 }, section: 'z33' });
  expect(row('leadingEdge.radius', 'R-OSC').id).toBe('leadingEdge.radius#2@z33');
  expect(row('leadingEdge.thickness', 'T-ORD').value).not.toBeNull();
  expect(row('thickness', 'T-CAM')).toMatchObject({ section: 'z63', name: 'Thickness at 40 % of the camber line' });
  expect(row('twist', 'TWIST-FIT').parameters).toMatchObject({ edges: 'excluded' });
  for (const one of characteristics!) {
    expect(one.definition).not.toBe('–');
    expect(one.u).toBeCloseTo(Math.hypot(...Object.values(one.budget!)), 12);
    expect(one.evidence?.points ?? 1).toBeGreaterThan(0);
  }
  expect(row('leadingEdge.radius', 'R-LSQ').budget).toMatchObject({ equipment: 0.001, tipRadius: 0.002 });
  expect(row('twist', 'TWIST-FIT').budget!.tipRadius).toBe(0);
});

test('only what is not among the measures of a section is asked for', () => {
  const [first, second] = inspected.results.sections;
  const names = (asked = first.asked) => asked!.map(({ of, definition }) => `${of} ${definition}`);
  expect(names()).toEqual([
    'leadingEdge.radius R-OSC',
    'leadingEdge.thickness T-ORD',
    'twist TWIST-FIT',
    'suctionSide.waviness WAVE-SLOPE',
  ]);
  expect(names(second.asked)).toContain('thickness T-CAM');
  expect(first.asked![0].nominal!.value).toBeCloseTo(first.nominal!.leadingEdge.radiusNose.value!, 12);
  expect(first.asked![0].measured!.value).toBeCloseTo(first.measured!.leadingEdge.radiusNose.value!, 12);
});

describe('redefine', () => {
  test('gives what a new inspection with these choices in its plan gives', async () => {
    const fresh = await run({ plan: file({ ...PLAN, definitions: CHOICES }) });
    const again = redefine(inspected.kept, CHOICES);
    expect(comparable(again)).toEqual(comparable(fresh.results));
    const chord = again.characteristics!.find((row) => row.of === 'chord')!;
    expect([chord.definition, chord.number]).toEqual(['CH-CAM', 7]);
    expect(chord.requirement.nominal).toBeCloseTo(again.sections[0].nominal!.chordCamber.value!, 12);
    expect(again.settings.definitions).toEqual(CHOICES);
  }, 60_000);

  test('leaves nothing behind when the choices are taken back', () => {
    redefine(inspected.kept, CHOICES);
    expect(comparable(redefine(inspected.kept, []))).toEqual(comparable(inspected.results));
  });

  test('without a plan: the choices as settings; a chosen quantity gets rows', async () => {
    const bare = await run({ settings: { mapCell: 6, heights: HEIGHTS } });
    const chosen = await run({ settings: { mapCell: 6, heights: HEIGHTS, definitions: CHOICES } });
    expect(comparable(redefine(bare.kept, CHOICES))).toEqual(comparable(chosen.results));
    const added = chosen.results.characteristics!.filter((row) => row.of === 'leadingEdge.radius');
    expect(added.map((row) => [row.section, row.definition])).toEqual([
      ['z33', 'R-SB'],
      ['z63', 'R-SB'],
    ]);
    expect(bare.results.characteristics!.some((row) => row.of === 'leadingEdge.radius')).toBe(false);
  }, 60_000);

  test('refuses what cannot be chosen', () => {
    const wrong = [{ of: 'chord', definition: 'R-SB' }];
    expect(() => redefine(inspected.kept, wrong)).toThrowError(expect.objectContaining({ code: 'plan/definition' }));
  });
});

describe('measureOne', () => {
  const one = (definition: string, parameters = {}) =>
    measureOne(inspected.kept, { section: 'z63', of: 'leadingEdge.radius', definition, parameters });

  test('judges by the limits of the plan', () => {
    const { nominal: own, measured: found, row } = one('R-SB', { setback: 0.3 });
    expect(row).toMatchObject({
      number: 2,
      definition: 'R-SB',
      parameters: { setback: 0.3 },
      value: found!.value,
      requirement: { nominal: own!.value, upper: own!.value! + 0.05 },
    });
    const again = redefine(inspected.kept, CHOICES).characteristics!;
    const listed = again.find((other) => other.definition === 'R-SB' && other.section === 'z63')!;
    expect({ ...row, id: '' }).toEqual({ ...listed, id: '' });
  });

  test('a circular edge leaves the points about their fitted circle, no farther than the noise', () => {
    const { measured: found, edge } = one('R-LSQ', { halfAngleDeg: 60 });
    const truth = formAt(nominalBlade(), 63).form.leading;
    expect(Math.abs(found!.value! - truth)).toBeLessThan(4 * found!.u!);
    const { centreX, centreY } = found!.evidence as { centreX: number; centreY: number };
    const inner = edge!.angleDeg.flatMap((angle, i) => (Math.abs(angle) < 60 ? [edge!.residual[i]] : []));
    const rms = Math.sqrt(inner.reduce((sum, d) => sum + d * d, 0) / inner.length);
    expect(rms).toBeGreaterThan(0.002);
    expect(rms).toBeLessThan(0.0045);
    edge!.x.forEach((x, i) => {
      expect(Math.hypot(x - centreX, edge!.y[i] - centreY) - found!.value!).toBeCloseTo(edge!.residual[i], 12);
    });
    expect(Math.min(...edge!.angleDeg)).toBeLessThan(-60);
    expect(Math.max(...edge!.angleDeg)).toBeGreaterThan(60);
    for (const angle of edge!.angleDeg) expect(Math.abs(angle)).toBeLessThan(101);
    const far = edge!.x.map((x, i) => Math.hypot(x - centreX, edge!.y[i] - centreY));
    expect(Math.max(...far)).toBeLessThan(8 * truth);
  });

  test('an ellipse of a circular edge leaves the same residuals as its circle', () => {
    const { edge, measured: found } = measureOne(inspected.kept, {
      section: 'z63',
      of: 'leadingEdge.ellipse',
      definition: 'E-A',
      parameters: { ratio: 1 },
    });
    const a = found!.evidence as { centreX: number; centreY: number; a: number };
    edge!.x.forEach((x, i) => {
      expect(Math.hypot(x - a.centreX, edge!.y[i] - a.centreY) - a.a).toBeCloseTo(edge!.residual[i], 9);
    });
  });

  test('quantities without an edge have no trace', () => {
    const chord = measureOne(inspected.kept, { section: 'z33', of: 'chord', definition: 'CH-BT' });
    expect(chord.edge).toBeUndefined();
    expect(chord.measured!.definition).toBe('CH-BT');
  });

  test.each([
    [{ section: 'z34', of: 'chord', definition: 'CH-BT' }, 'usage/measure', 'z33, z63'],
    [{ section: 'z33', of: 'chords', definition: 'CH-BT' }, 'usage/measure', 'catalogue'],
    [{ section: 'z33', of: 'chord', definition: 'R-SB' }, 'usage/measure', 'listed'],
    [{ section: 'z33', of: 'bow', definition: 'BOW-END' }, 'usage/measure', 'listed'],
    [{ section: 'z33', of: 'thickness', definition: 'T-MIC' }, 'usage/measure', 'at'],
    [{ section: 'z33', of: 'chord', at: 1, definition: 'CH-BT' }, 'usage/measure', 'at'],
    [
      { section: 'z33', of: 'leadingEdge.radius', definition: 'R-SB', parameters: { setback: -1 } },
      'plan/definition',
      'number',
    ],
  ])('%j is refused', (request, code, remedy) => {
    expect(() => measureOne(inspected.kept, request)).toThrowError(
      expect.objectContaining({ code, remedy: expect.stringContaining(remedy) }),
    );
  });
});
