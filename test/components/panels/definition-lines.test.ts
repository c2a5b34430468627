import { describe, expect, it } from 'vitest';
import { definitionLines } from '../../../components/panels/definition-lines.ts';
import { definitionsByPath } from '../../../src/judge/definitions-by-path.ts';
import { exampleResults } from '../../support/example-results.ts';

const results = exampleResults();
const byOf = definitionsByPath();

describe('definitions in use', () => {
  const lines = definitionLines(results, byOf, [{ of: 'chordFar', definition: 'CH-FAR' }], '3', '.');
  it('has one line a quantity, in the order of the table', () => {
    const names = [...new Set(results.characteristics!.map((c) => c.name))];
    expect(lines.map((l) => l.name)).toEqual(names);
  });
  it('leads to the row of the chosen section, and says what can be changed and what was', () => {
    const chord = lines.find((l) => l.rowId.startsWith('chordFar'))!;
    expect(chord).toMatchObject({ rowId: 'chordFar@3', isChosen: true, canChange: true });
    const bow = lines.find((l) => l.rowId === 'bow')!;
    expect(bow).toMatchObject({ isChosen: false, canChange: false });
  });
});
