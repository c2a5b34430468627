import { describe, expect, test } from 'vitest';
import { planOf } from '../../src/judge/read-plan.ts';
import type { Plan } from '../../src/model/plan.ts';
import { cutsOfPlan } from '../../src/section/cut-of-plan.ts';

const HEAD = { schema: 'camberwright/plan', schemaVersion: 1 };
const ENGINE = { point: [0, 0, -300], direction: [1, 0, 0] };
const planWith = (cut: object, engine?: object) => ({
  ...HEAD,
  ...(engine ? { engine } : {}),
  sections: { cuts: [cut] },
});

describe('a section of a plan is refused', () => {
  test.each([
    ['no-engine', 'needs the engine axis', { kind: 'cylinder', id: 'C', radius: 360 }, undefined],
    ['no-engine', 'needs the engine axis', { kind: 'cone', id: 'C', radius: 360, at: 0, halfAngleDeg: 5 }, undefined],
    ['no-engine', 'has no length', { kind: 'cylinder', id: 'C', radius: 360 }, { ...ENGINE, direction: [0, 0, 0] }],
    ['normal', 'no length', { kind: 'plane', id: 'C', point: [0, 0, 60], normal: [0, 0, 0] }, undefined],
    ['along-span', 'along the span', { kind: 'plane', id: 'C', point: [0, 0, 60], normal: [1, 0, 0.17] }, undefined],
    ['radius', 'above 0', { kind: 'cylinder', id: 'C', radius: 0 }, ENGINE],
    ['radius', 'stacking axis', { kind: 'cylinder', id: 'C', radius: 5 }, { ...ENGINE, point: [0, 10, -300] }],
    ['radius', 'stacking axis', { kind: 'cylinder', id: 'C', radius: 5 }, { ...ENGINE, direction: [0, 0, 1] }],
    ['radius', 'stacking axis', { kind: 'cone', id: 'C', radius: 5, at: 100, halfAngleDeg: 45 }, ENGINE],
    ['along-span', 'along the span', { kind: 'cylinder', id: 'C', radius: 5 }, { ...ENGINE, point: [0, 4.95, -300] }],
    ['angle', 'half angle', { kind: 'cone', id: 'C', radius: 360, at: 0, halfAngleDeg: 85 }, ENGINE],
  ])('%s: %s', (code, words, cut, engine) => {
    expect(() => planOf(planWith(cut, engine), 'p.json')).toThrow(
      expect.objectContaining({
        code: `plan/cut-${code}`,
        message: expect.stringContaining(words),
        where: 'p.json, sections.cuts[0]',
        exitCode: 2,
      }),
    );
  });

  test('where two have one id', () => {
    const cut = { kind: 'cylinder', id: 'C', radius: 360 };
    expect(() => planOf({ ...HEAD, engine: ENGINE, sections: { cuts: [cut, cut] } }, 'p.json')).toThrow(
      expect.objectContaining({ code: 'plan/value', message: 'Two sections are named "C".' }),
    );
  });
});

test('says in words what a section is', () => {
  const plan = {
    ...HEAD,
    engine: ENGINE,
    sections: {
      cuts: [
        { kind: 'plane', id: 'P', point: [0, 0, 60], normal: [0, -0.1, 1] },
        { kind: 'cylinder', id: 'C', radius: 360 },
        { kind: 'cone', id: 'K', radius: 360.5, at: -4, halfAngleDeg: 5 },
      ],
    },
  } as Plan;
  const cuts = cutsOfPlan(plan, 'p.json');
  expect(cuts.map((cut) => cut.record.text)).toEqual([
    'Plane through (0, 0, 60) mm, normal (0, −0.1, 1)',
    'Cylinder of radius 360 mm about the engine axis',
    'Cone of radius 360.5 mm at −4 mm along the engine axis, half angle 5°',
  ]);
  const slope = Math.tan((5 * Math.PI) / 180);
  expect(cuts.map((cut) => cut.height)).toEqual([60, 60, expect.closeTo(60.5 + 4 * slope, 10)]);
});
