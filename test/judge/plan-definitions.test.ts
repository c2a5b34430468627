import { describe, expect, test } from 'vitest';
import { CamberwrightError } from '../../src/error.ts';
import { checkChoices } from '../../src/judge/definition-checks.ts';
import { planOf } from '../../src/judge/read-plan.ts';

const HEAD = { schema: 'camberwright/plan', schemaVersion: 1 };

function refusal(plan: object): CamberwrightError {
  try {
    planOf({ ...HEAD, ...plan }, 'p.json');
  } catch (error) {
    if (error instanceof CamberwrightError) return error;
  }
  throw new Error('The plan was taken.');
}

const definitions = (...list: object[]) => ({ definitions: list });
const characteristics = (...list: object[]) => ({ characteristics: list });

describe('a plan is refused for', () => {
  test.each([
    [
      'an unknown definition',
      definitions({ of: 'leadingEdge.radius', definition: 'R-LSK' }),
      'plan/definition',
      'definitions[0].definition',
      '"R-LSQ"',
    ],
    [
      'a definition of another quantity',
      characteristics({ of: 'chordFar' }, { of: 'chord', definition: 'T-MIC' }),
      'plan/definition',
      'characteristics[1].definition',
      'CH-FAR',
    ],
    [
      'an unknown parameter',
      definitions({ of: 'leadingEdge.radius', definition: 'R-LSQ', parameters: { halfAngel: 45 } }),
      'plan/definition',
      'definitions[0].parameters.halfAngel',
      '"halfAngleDeg"',
    ],
    [
      'a parameter where there is none',
      definitions({ of: 'leadingEdge.radius', definition: 'R-OSC', parameters: { setback: 1 } }),
      'plan/definition',
      'definitions[0].parameters.setback',
      'no parameters',
    ],
    [
      'a parameter out of its range',
      characteristics({ of: 'leadingEdge.radius', definition: 'R-LSQ', parameters: { halfAngleDeg: 180 } }),
      'plan/definition',
      'characteristics[0].parameters.halfAngleDeg',
      '85',
    ],
    [
      'a parameter of the wrong kind',
      characteristics({ of: 'leadingEdge.radius', parameters: { halfAngleDeg: '45' } }),
      'plan/definition',
      'characteristics[0].parameters.halfAngleDeg',
      'number',
    ],
    [
      'parameters that do not fit the definition chosen for the quantity',
      {
        ...definitions({ of: 'leadingEdge.radius', definition: 'R-SB' }),
        ...characteristics({ of: 'leadingEdge.radius', parameters: { halfAngleDeg: 45 } }),
      },
      'plan/definition',
      'characteristics[0].parameters.halfAngleDeg',
      '"setback"',
    ],
    [
      'two definitions of one quantity',
      definitions({ of: 'chord', definition: 'CH-BT' }, { of: 'chord', definition: 'CH-FAR' }),
      'plan/definition',
      'definitions[1].of',
      'one of them',
    ],
    [
      'a definition where there is no choice',
      characteristics({ of: 'bow', definition: 'BOW-LSQ' }),
      'plan/definition',
      'characteristics[0].definition',
      'Take the definition out',
    ],
    [
      'another definition of a path that names its own',
      characteristics({ of: 'area', definition: 'PERIMETER' }),
      'plan/definition',
      'characteristics[0].definition',
      '"AREA"',
    ],
    [
      'an unknown quantity',
      definitions({ of: 'leadingEdge.radios', definition: 'R-LSQ' }),
      'plan/value',
      'definitions[0].of',
      '"leadingEdge.radius"',
    ],
    ['a negative tip radius error', { uncertainty: { tipRadius: -1 } }, 'plan/value', 'uncertainty.tipRadius', '0'],
    [
      'a negative temperature error',
      { uncertainty: { temperature: { expansion: 1e-5, u: -1 } } },
      'plan/value',
      'uncertainty.temperature.u',
      '0',
    ],
  ])('%s', (_, plan, code, path, hint) => {
    const error = refusal(plan);
    expect(error.code).toBe(code);
    expect(error.where).toBe(`p.json, ${path}`);
    expect(error.remedy).toContain(hint);
  });
});

test('choices beside a plan are held against its rows', () => {
  const plan = planOf(
    { ...HEAD, ...characteristics({ of: 'leadingEdge.radius', parameters: { halfAngleDeg: 45 } }) },
    'p',
  );
  expect(() => checkChoices([{ of: 'leadingEdge.radius', definition: 'R-LSQ' }], plan, 'settings')).not.toThrow();
  expect(() => checkChoices([{ of: 'leadingEdge.radius', definition: 'R-SB' }], plan, 'settings')).toThrowError(
    expect.objectContaining({ code: 'plan/definition', where: expect.stringContaining('settings') }),
  );
});
