import { describe, expect, it } from 'vitest';
import { outputName, reportAnswer } from '../../../components/state/report-answer.ts';
import { exampleResults } from '../../support/example-results.ts';

describe('answer of the Report page', () => {
  const results = exampleResults();
  it('names what has no result', () => {
    const missing = results.characteristics!.filter((c) => c.verdict === 'not-measured');
    expect(missing.length).toBe(1);
    expect(reportAnswer(results).text).toContain(
      `except characteristic ${missing[0].number}: 1 result is not measured`,
    );
  });
  it('says complete only when nothing is missing', () => {
    const rows = results.characteristics!.filter((c) => c.verdict !== 'not-measured');
    expect(reportAnswer({ ...results, characteristics: rows }).text).toMatch(/^The table is complete/);
  });
  it('carries the verdict of the sections answer', () => {
    expect(reportAnswer(results).verdict).toBe(results.answers.sections!.verdict);
  });
  it('names files after part and serial, else after the measured file', () => {
    const plan = { schema: 'camberwright/plan', schemaVersion: 1 } as const;
    expect(outputName(results, null)).toBe('scan-0147');
    expect(outputName(results, plan)).toBe('scan-0147');
    expect(outputName(results, { ...plan, part: { number: '77/31' }, serial: '0147' })).toBe('77-31-serial-0147');
  });
});
