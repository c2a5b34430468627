import { describe, expect, test } from 'vitest';
import { faultLines, rowLines } from '../../src/cli/rows-text.ts';
import { sectionTableText } from '../../src/cli/sections-text.ts';
import { definitionsByPath } from '../../src/judge/definitions-by-path.ts';
import type { Fault } from '../../src/model/results.ts';
import { exampleResults } from '../support/example-results.ts';
import { buildOnce, run } from './run.ts';

const results = exampleResults();
const plain = { verbose: false, tint: (text: string) => text };

describe('definitions, listed', () => {
  test('of one quantity with meaning and parameters, of all, and as a document', async () => {
    await buildOnce();
    const one = await run(['definitions', 'leadingEdge.radius']);
    expect(one).toMatchObject({ code: 0, stderr: '' });
    expect(one.stdout).toContain('R-LSQ (own): ');
    expect(one.stdout).toMatch(/halfAngleDeg = 60: .*; 15 to 85 °/);
    const all = await run(['definitions']);
    expect(all.stdout.trimEnd().split('\n')).toHaveLength(Object.keys(definitionsByPath()).length);
    const document = await run(['definitions', 'chord', '--json']);
    expect(JSON.parse(document.stdout)).toEqual({ chord: definitionsByPath().chord });
    const wrong = await run(['definitions', 'leadingEdge.radios']);
    expect(wrong.code).toBe(2);
    expect(wrong.stderr).toContain('Did you mean "leadingEdge.radius"?');
  }, 120_000);
});

describe('rows as text', () => {
  test('what does not pass, with definition, limits, U and its parts', () => {
    const lines = rowLines(results, plain);
    const open = results.characteristics!.filter((row) => ['fail', 'not-proven', 'not-measured'].includes(row.verdict));
    expect(lines.length).toBe(Math.min(12, open.length) + (open.length > 12 ? 1 : 0));
    const words = lines.map((text) => text.trim().split('  ')[0]);
    expect(words.lastIndexOf('FAIL')).toBe(open.filter((row) => row.verdict === 'fail').length - 1);
    const fail = open.find((row) => row.verdict === 'fail' && row.value !== null && row.budget)!;
    const line = lines.find((text) => text.includes(fail.name) && text.includes('FAIL'))!;
    expect(line).toContain(`[${fail.definition}`);
    expect(line).toContain(' to ');
    expect(line).toMatch(/U 0\.\d+ mm \(scatter 0\.\d+, equipment 0\.\d+\)/);
  });

  test('all of them with --verbose', () => {
    expect(rowLines(results, { ...plain, verbose: true })).toHaveLength(results.characteristics!.length);
  });

  test('local defects with their places', () => {
    const fault: Fault = {
      kind: 'nick',
      place: { height: 22.54, along: -3.2, side: 'leading-edge', point: [0, 0, 22.54] },
      depth: -0.052,
      u: 0.003,
      width: 0.31,
      length: 0.8,
      points: 41,
      message: 'A nick.',
    };
    expect(faultLines({ ...results, faults: [fault] })).toEqual([
      'Local defects:',
      '  nick, leading edge, height 22.5 mm, 3.20 mm along the suction side from the leading edge: ' +
        '−0.052 mm (U 0.006), 0.31 × 0.80 mm, 41 points',
    ]);
    expect(faultLines({ ...results, faults: [] })).toEqual(['Local defects: none found.']);
    expect(faultLines(results)).toEqual([]);
  });

  test('the table of sections names the definition of each column', () => {
    const [head, units, ways] = sectionTableText(results).split('\n');
    expect([head.length, units.length]).toEqual([ways.length, ways.length]);
    expect(ways).toContain(results.sections[0].measured!.chordFar.definition);
  });
});
