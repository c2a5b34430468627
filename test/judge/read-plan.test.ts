import { describe, expect, test } from 'vitest';
import type { CamberwrightError } from '../../src/error.ts';
import { CATALOGUE } from '../../src/judge/catalogue.ts';
import { jsonFault } from '../../src/judge/json-fault.ts';
import { nearestWord, wordDistance } from '../../src/judge/nearest-word.ts';
import { checkPlanSections } from '../../src/judge/plan-checks.ts';
import { planOf, readPlan } from '../../src/judge/read-plan.ts';
import { sectionMeasuresSchema } from '../../src/model/results.ts';

const HEAD = { schema: 'camberwright/plan', schemaVersion: 1 };

function caught(run: () => unknown): CamberwrightError {
  try {
    run();
  } catch (error) {
    return error as CamberwrightError;
  }
  throw new Error('nothing was thrown');
}

const refusal = (body: object) => caught(() => planOf({ ...HEAD, ...body }, 'p.json'));

test('reads a plan, byte order mark and all', () => {
  const text = JSON.stringify({ ...HEAD, characteristics: [{ of: 'bow', plus: 0.1, minus: 0.1 }] });
  expect(readPlan(`\ufeff${text}`, 'p.json').characteristics![0].of).toBe('bow');
});

describe('syntax', () => {
  test.each([
    ['{\n  "schema": "x",\n  "a" 1\n}', 'line 3, column 7', "':'"],
    ['{"a": 1,}', 'line 1, column 9', 'double quotes'],
    ['[1, 2', 'line 1, column 6', "',' or ']'"],
    ['{"a": 0,435}', 'line 1, column 9', 'double quotes'],
    ['', 'line 1, column 1', 'a value'],
    ['{"a": "b\n"}', 'line 1, column 9', 'closing double quote'],
    ['{} x', 'line 1, column 4', 'end of the file'],
    ['{"a": .5}', 'line 1, column 7', 'a value'],
  ])('%j is refused at %s', (text, place, wanted) => {
    const error = caught(() => readPlan(text, 'p.json'));
    expect(error.code).toBe('plan/syntax');
    expect(error.where).toBe(`p.json, ${place}`);
    expect(error.message).toContain(wanted);
  });

  test.each(['{"a":[1,-2.5e+3,true,null,"\\u00e9\\n"]}', ' [ ] ', '0', '"\u007f"', '{"a":{"b":{}}}'])(
    '%j is JSON',
    (text) => {
      expect(jsonFault(text)).toBeNull();
      expect(() => JSON.parse(text)).not.toThrow();
    },
  );

  test('agrees with the engine on mangled texts', () => {
    const text = '{"a":[1,-2.5e3,true,null,"x\\n"],"b":{"c":0}}';
    for (let i = 0; i < text.length; i++) {
      for (const mangled of [text.slice(0, i) + text.slice(i + 1), `${text.slice(0, i)}}${text.slice(i)}`]) {
        let valid = true;
        try {
          JSON.parse(mangled);
        } catch {
          valid = false;
        }
        expect(jsonFault(mangled) === null, mangled).toBe(valid);
      }
    }
  });
});

describe('keys and values', () => {
  test.each([
    [{ charcteristics: [] }, 'characteristics', 'charcteristics'],
    [{ characteristics: [{ of: 'bow', uper: 1 }] }, 'upper', 'characteristics[0].uper'],
    [{ zones: [{ name: 'a', side: 'all', plus: 1, minus: 1, hight: 1 }] }, null, 'zones[0].hight'],
    [{ decision: { rule: 'simple', factr: 2 } }, 'factor', 'decision.factr'],
  ])('%j: the unknown key is named', (body, nearest, path) => {
    const error = refusal(body);
    expect(error.code).toBe('plan/unknown-key');
    expect(error.where).toBe(`p.json, ${path}`);
    if (nearest) expect(error.remedy).toContain(`"${nearest}"`);
  });

  test.each([
    [{ schemaVersion: 2 }, 'schemaVersion'],
    [{ edgeZone: '2' }, 'edgeZone'],
    [{ edgeZone: 0 }, 'edgeZone'],
    [{ zones: [{ name: 'a', side: 'upper', plus: 1, minus: 1 }] }, 'zones[0].side'],
    [{ zones: [{ name: 'a', side: 'all', plus: 0.1 }] }, 'zones[0].minus'],
    [{ zones: [{ name: 'a', side: 'all', plus: 0.1, minus: -0.2 }] }, 'zones[0]'],
    [{ zones: [{ name: 'a', side: 'all', plus: 0.1, minus: 0.2, from: 5, to: 5 }] }, 'zones[0].from'],
    [{ characteristics: [{ of: 'chordFar', lower: 2, upper: 1 }] }, 'characteristics[0].lower'],
    [{ characteristics: [{ of: 'chordFar', upper: 2, plus: 1 }] }, 'characteristics[0].plus'],
    [{ characteristics: [{ of: 'chordFar', nominal: 1, upper: 2, minus: -3 }] }, 'characteristics[0]'],
    [{ characteristics: [{ of: 'leadingEdge.thicknessAt', upper: 2 }] }, 'characteristics[0].at'],
    [{ characteristics: [{ of: 'chordFar', at: 2 }] }, 'characteristics[0].at'],
    [{ characteristics: [{ of: 'bow', sections: ['1'] }] }, 'characteristics[0].sections'],
    [{ minCoverage: 98 }, 'minCoverage'],
    [{ uncertainty: { equipment: -1 } }, 'uncertainty.equipment'],
    [{ decision: { rule: 'guarded', factor: -1 } }, 'decision.factor'],
    [{ sections: { heights: [2, 1] } }, 'sections.heights[1]'],
    [{ sections: { heights: [1, 2], ids: ['a'] } }, 'sections.ids'],
  ])('%j is refused with its path', (body, path) => {
    const error = refusal(body);
    expect(error.code).toBe('plan/value');
    expect(error.where).toBe(`p.json, ${path}`);
    expect(error.exitCode).toBe(2);
  });

  test('a missing key is named as such', () => {
    const error = caught(() => planOf({ schema: 'camberwright/plan' }, 'p.json'));
    expect(error.message).toContain('schemaVersion');
    expect(error.message).toContain('found nothing');
  });

  test('an unknown quantity gets the nearest known one', () => {
    const error = refusal({ characteristics: [{ of: 'leadingEdge.radiusFitt', upper: 1 }] });
    expect(error.remedy).toContain('"leadingEdge.radiusFit"');
  });

  test('an unknown section gets the nearest known one', () => {
    const plan = planOf({ ...HEAD, characteristics: [{ of: 'chordFar', sections: ['B-B'] }] }, 'p.json');
    expect(() => checkPlanSections(plan, ['A-A', 'B-B'], 'p.json')).not.toThrow();
    const error = caught(() => checkPlanSections(plan, ['A-A', 'B-C'], 'p.json'));
    expect([error.code, error.remedy]).toEqual(['plan/unknown-section', expect.stringContaining('"B-C"')]);
  });
});

test('every value of a section can be named in a plan', () => {
  const skipped = ['faults'];
  const edges = ['leadingEdge', 'trailingEdge'] as const;
  const paths = Object.keys(sectionMeasuresSchema.entries).flatMap((key) =>
    edges.includes(key as 'leadingEdge')
      ? Object.keys(sectionMeasuresSchema.entries.leadingEdge.entries)
          .filter((inner) => !skipped.includes(inner))
          .map((inner) => `${key}.${inner}`)
      : [key],
  );
  const known = CATALOGUE.map((entry) => entry.of);
  expect(paths.filter((path) => !known.includes(path))).toEqual([]);
  expect(new Set(known).size).toBe(known.length);
});

test('word distance counts single changes', () => {
  expect(wordDistance('kitten', 'sitting')).toBe(3);
  expect(nearestWord('chord', [])).toBeNull();
});
