import { describe, expect, test } from 'vitest';
import { CATALOGUE, catalogueEntry } from '../../src/judge/catalogue.ts';
import { allowedDefinitions, choiceOf } from '../../src/judge/choice.ts';
import { definitionsByPath } from '../../src/judge/definitions-by-path.ts';
import { planOf } from '../../src/judge/read-plan.ts';
import { sectionChoice } from '../../src/judge/section-choice.ts';
import { completeParameters, DEFINITIONS } from '../../src/measure/definitions/definitions.ts';

const RADIUS = catalogueEntry('leadingEdge.radius')!;
const WHOLE = [{ of: 'leadingEdge.radius', definition: 'R-SB', parameters: { setback: 0.3 } }];

describe('the order of choices', () => {
  test('the catalogue, then the quantity, then the row', () => {
    expect(choiceOf({}, RADIUS, [])).toEqual({ definition: 'R-LSQ', parameters: {}, chosen: false });
    expect(choiceOf({}, RADIUS, WHOLE)).toEqual({ definition: 'R-SB', parameters: { setback: 0.3 }, chosen: true });
    const own = { definition: 'R-LSQ', parameters: { halfAngleDeg: 45 } };
    expect(choiceOf(own, RADIUS, WHOLE)).toEqual({ ...own, chosen: true });
  });

  test('parameters of a row add to those of the quantity, unless the row names its definition', () => {
    expect(choiceOf({ parameters: { setback: 0.5 } }, RADIUS, WHOLE).parameters).toEqual({ setback: 0.5 });
    expect(choiceOf({ definition: 'R-SB' }, RADIUS, WHOLE)).toEqual({
      definition: 'R-SB',
      parameters: {},
      chosen: true,
    });
  });

  test('a choice for another path does not count', () => {
    expect(choiceOf({}, catalogueEntry('trailingEdge.radius')!, WHOLE).chosen).toBe(false);
  });

  test('naming the own definition alone chooses nothing', () => {
    expect(choiceOf({ definition: 'R-LSQ' }, RADIUS, []).chosen).toBe(false);
  });

  test('a path with parameters of its own keeps them', () => {
    const entry = catalogueEntry('displacementCamberX')!;
    expect(choiceOf({ parameters: { pivotX: 2 } }, entry, []).parameters).toEqual({
      basis: 'mid camber line',
      pivotX: 2,
    });
  });
});

describe('the throat takes blades and radius from the plan', () => {
  const plan = planOf(
    {
      schema: 'camberwright/plan',
      schemaVersion: 1,
      engine: { point: [0, 0, -300], direction: [2, 0, 0], blades: 31 },
    },
    'p.json',
  );
  const entry = catalogueEntry('throat')!;

  test('radius from the axis to where the section meets the stacking axis', () => {
    const found = sectionChoice({}, entry, [], { height: 60 }, plan);
    expect(found).toMatchObject({ parameters: { blades: 31, radius: 360 }, chosen: false });
  });

  test('the radius of a cylinder, and what is chosen, come first', () => {
    const cut = { kind: 'cylinder', radius: 350, text: '' } as const;
    const own = { parameters: { blades: 29 } };
    expect(sectionChoice(own, entry, [], { height: 60, cut }, plan).parameters).toEqual({ blades: 29, radius: 350 });
  });

  test('nothing without an engine, nothing for other quantities', () => {
    expect(sectionChoice({}, entry, [], { height: 60 }, null).parameters).toEqual({});
    expect(sectionChoice({}, RADIUS, [], { height: 60 }, plan).parameters).toEqual({});
  });
});

describe('catalogue against the lists of definitions', () => {
  const withChoice = CATALOGUE.filter((entry) => entry.quantity !== null);

  test.each(withChoice.map((entry) => [entry.of, entry] as const))('%s has its own definition first', (_, entry) => {
    const [own, ...others] = allowedDefinitions(entry);
    expect(own?.id).toBe(entry.definition);
    expect(own.unit).toBe(entry.unit);
    expect(() => completeParameters(own, entry.parameters)).not.toThrow();
    expect(entry.fixed ? others : []).toEqual([]);
  });

  test('every definition can be reached by some path', () => {
    const reached = new Set(withChoice.flatMap(allowedDefinitions));
    expect(DEFINITIONS.filter((definition) => !reached.has(definition)).map(({ id }) => id)).toEqual([]);
  });

  test('the list for readers holds no functions', () => {
    const list = definitionsByPath();
    expect(structuredClone(list)).toEqual(list);
    expect(list['leadingEdge.radius'].map(({ id }) => id)).toEqual(
      expect.arrayContaining(['R-LSQ', 'R-SB', 'R-OSC', 'R-MIC', 'R-END', 'E-AB']),
    );
    expect(list.bow).toBeUndefined();
  });
});
