import { describe, expect, it } from 'vitest';
import { parseHeights } from '../../../components/panels/parse-heights.ts';
import { COLUMNS, copyText, filteredRows, gridMove } from '../../../components/panels/table-rows.ts';
import { exampleResults } from '../../support/example-results.ts';

const results = exampleResults();
const rows = results.characteristics!;

describe('characteristic table', () => {
  it('filters by verdict', () => {
    expect(filteredRows(rows, 'all').length).toBe(rows.length);
    const open = filteredRows(rows, 'not-passing');
    expect(new Set(open.map((r) => r.verdict))).toEqual(new Set(['fail', 'not-proven', 'not-measured']));
    expect(filteredRows(rows, 'not-measured').length).toBe(rows.filter((r) => r.verdict === 'not-measured').length);
  });
  it('copies head and cells as tab-separated text with ASCII minus', () => {
    const lines = copyText(rows, results).split('\n');
    expect(lines.length).toBe(rows.length + 1);
    for (const line of lines) expect(line.split('\t').length).toBe(COLUMNS.length);
    expect(lines.join('')).not.toMatch(/[−–]/);
    const negative = rows.findIndex((r) => (r.deviation ?? 0) < -0.01);
    expect(Number(lines[negative + 1].split('\t')[5])).toBeLessThan(0);
  });
  it('moves by the grid keys and stops at the borders', () => {
    const at = { row: 3, column: 2 };
    expect(gridMove('ArrowUp', false, at, 5, 4)).toEqual({ row: 2, column: 2 });
    expect(gridMove('PageDown', false, at, 5, 4)).toEqual({ row: 4, column: 2 });
    expect(gridMove('End', true, at, 5, 4)).toEqual({ row: 4, column: 3 });
    expect(gridMove('Home', false, at, 5, 4)).toEqual({ row: 3, column: 0 });
    expect(gridMove('x', false, at, 5, 4)).toBeNull();
  });
});

describe('typed heights', () => {
  it('sorts, takes both decimal marks and drops doubles', () => {
    expect(parseHeights('30; 10,5  20 10.5')).toEqual([10.5, 20, 30]);
  });
  it('refuses what is not all numbers', () => {
    for (const text of ['', ' ; ', '10; ten']) expect(parseHeights(text)).toBeNull();
  });
});
