import { describe, expect, it } from 'vitest';
import { budgetLines, howFacts, parametersText, plainWords, reasonText } from '../../../components/panels/how-facts.ts';
import { definitionsByPath } from '../../../src/judge/definitions-by-path.ts';
import type { Characteristic } from '../../../src/model/results.ts';
import { exampleResults } from '../../support/example-results.ts';

const RULE = { rule: 'guarded', factor: 1.65 } as const;
const byOf = definitionsByPath();
const some = exampleResults().characteristics!.find((c) => c.of === 'leadingEdge.radiusFit')!;
const row: Characteristic = {
  ...some,
  definition: 'R-LSQ',
  parameters: { halfAngleDeg: 60 },
  evidence: { points: 118, rms: 0.00361, centreX: -22.07, fromDeg: 119.112, complete: true, list: [1, 2] },
  requirement: { nominal: 0.25, lower: 0.2, upper: 0.3, unit: 'mm' },
  value: 0.204,
  u: 0.004,
  verdict: 'not-proven',
  reason: 'Too close to a limit for the uncertainty.',
  budget: { random: 0.003, tipRadius: Math.sqrt(0.004 ** 2 - 0.003 ** 2) },
};
const info = byOf[row.of].find((one) => one.id === 'R-LSQ')!;
const fact = (facts: { what: string; text: string }[], what: string): string | undefined =>
  facts.find((one) => one.what === what)?.text;

describe('how a number came about', () => {
  it('names definition, parameters, evidence, requirement and guard band with units', () => {
    const facts = howFacts(row, info, RULE, '.');
    expect(fact(facts, 'definition')).toBe(`${info.name} (R-LSQ)`);
    expect(fact(facts, 'meaning')).toBe(info.meaning);
    expect(fact(facts, 'with')).toBe('Half angle 60°');
    expect(fact(facts, 'points used')).toBe('118');
    expect(fact(facts, 'residual of the fit, rms')).toBe('0.0036 mm');
    expect(fact(facts, 'normals fitted, from')).toBe('119.11°');
    expect(fact(facts, 'complete')).toBe('yes');
    expect(fact(facts, 'list')).toBeUndefined();
    expect(fact(facts, 'requirement')).toBe('0.200 to 0.300 mm');
    expect(fact(facts, 'guard band g')).toBe(`${(1.65 * 0.004).toFixed(4)} mm`);
    expect(fact(facts, 'proven inside')).toBe(`from ${(0.2 + 0.0066).toFixed(3)} to ${(0.3 - 0.0066).toFixed(3)} mm`);
  });

  it('follows the decimal mark', () => {
    expect(fact(howFacts(row, info, RULE, ','), 'residual of the fit, rms')).toBe('0,0036 mm');
  });

  it('says when guard bands meet, when U is unknown, and when the rule uses none', () => {
    const tight = { ...row, requirement: { ...row.requirement, upper: 0.21 } };
    expect(fact(howFacts(tight, info, RULE, '.'), 'proven inside')).toMatch(/^nowhere/);
    expect(fact(howFacts({ ...row, u: null }, info, RULE, '.'), 'guard band g')).toMatch(/not known/);
    expect(fact(howFacts(row, info, { rule: 'simple', factor: 0 }, '.'), 'guard band g')).toBeUndefined();
  });

  it('explains a row that is not proven by its distance from the limit', () => {
    expect(reasonText(row, RULE, '.')).toContain('It lies 0.0040 mm inside the lower limit');
    expect(reasonText({ ...row, value: 0.302 }, RULE, '.')).toContain('0.0020 mm beyond the upper limit');
    const upper = { ...row, requirement: { ...row.requirement, lower: null }, value: 0.299 };
    expect(reasonText(upper, RULE, '.')).toContain('inside the upper limit');
    const datum = { ...row, value: 0.25, reason: 'No datum fit.' };
    expect(reasonText(datum, RULE, '.')).toBe('No datum fit.');
    expect(reasonText({ ...row, verdict: 'not-measured', value: null, reason: 'No points.' }, RULE, '.')).toBe(
      'No points.',
    );
  });

  it('breaks U down by source, the largest first, shares adding up to one', () => {
    const lines = budgetLines(row);
    expect(lines.map((l) => l.source)).toEqual(['random', 'tip radius']);
    expect(lines[0].expanded).toBeCloseTo(0.006, 12);
    expect(lines.reduce((sum, l) => sum + l.share, 0)).toBeCloseTo(1, 12);
    expect(budgetLines({ ...row, budget: undefined })).toEqual([]);
  });

  it('writes parameters and record names in plain words', () => {
    expect(plainWords('halfAngleDeg')).toBe('half angle');
    expect(plainWords('tipRadius')).toBe('tip radius');
    expect(parametersText({ setback: -0.5, from: 'nose' }, [])).toBe('setback −0.5, from nose');
  });
});
