import { describe, expect, it } from 'vitest';
import { mapNumbers, numbersText, outlineNumbers, trendNumbers } from '../../../components/plots/plot-numbers.ts';
import { trendSeriesOf } from '../../../components/plots/trend-series.ts';
import { exampleResults } from '../../support/example-results.ts';

const results = exampleResults();

describe('table twins of the plots', () => {
  it('hold every point of the outline, U as 2u, and leave gaps empty', () => {
    const section = results.sections[3];
    const { rows } = outlineNumbers(section);
    expect(rows.length).toBe(section.plot!.along.length);
    const gap = section.plot!.deviation.indexOf(null);
    expect(gap).toBeGreaterThanOrEqual(0);
    expect(rows[gap][1]).toBeNull();
    expect(rows[0][2]).toBeCloseTo(2 * section.plot!.u[0]!, 12);
  });
  it('hold every cell of the map, from the tip down', () => {
    const map = results.map!;
    const { rows } = mapNumbers(results);
    expect(rows.length).toBe(map.along.reduce((sum, row) => sum + row.length, 0));
    const top = map.heights.length - 1;
    expect(rows[0].slice(0, 3)).toEqual([map.heights[top], map.along[top][0], map.deviation[top][0]]);
    expect(rows.filter((row) => row[2] === null).length).toBe(map.deviation.flat().filter((d) => d === null).length);
  });
  it('list the trends from the tip down', () => {
    const series = trendSeriesOf(results);
    const { heads, rows } = trendNumbers(series);
    expect(heads.length).toBe(series.length + 1);
    expect(rows.map((r) => r[0])).toEqual([111, 90, 60, 36, 12]);
    expect(rows[4][1]).toBe(series[0].value[0]);
  });
  it('copy as tab-separated text with a point and an ASCII minus', () => {
    const text = numbersText({ heads: ['a, mm', 'b'], decimals: [2, 1], rows: [[-1.239, null]] });
    expect(text).toBe('a, mm\tb\n-1.24\t');
  });
});
