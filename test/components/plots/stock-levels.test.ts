import { describe, expect, it } from 'vitest';
import { sectionMarks, shownLimits } from '../../../components/plots/hub.ts';
import { mapNumbers } from '../../../components/plots/plot-numbers.ts';
import { stockLevels, stockSeries } from '../../../components/plots/stock-levels.ts';
import { trendSeriesOf } from '../../../components/plots/trend-series.ts';
import { sideAt, stepWorst, worstPlaces } from '../../../components/state/selection.ts';
import { EVEN, exampleBlank, SHIFT, WANTED } from '../../support/example-blank.ts';

const { results } = exampleBlank();
const good = exampleBlank([-SHIFT[0], -SHIFT[1], 0]).results;

describe('stock over the height', () => {
  it('takes every row of the map into the level of its nearest section', () => {
    const levels = stockLevels(results);
    const all = results.map!.deviation.flat().filter((d) => d !== null);
    expect(Math.min(...levels.map((l) => l.least.value!))).toBe(Math.min(...all));
    expect(Math.max(...levels.map((l) => l.most.value!))).toBe(Math.max(...all));
    expect(levels.map((l) => l.height)).toEqual([...results.sections.map((s) => s.height)].sort((a, b) => a - b));
  });

  it('holds least and most against the limits of their own places', () => {
    for (const { least, most } of stockLevels(results)) {
      expect(least).toMatchObject({ limit: WANTED.least, verdict: 'fail' });
      expect(most).toMatchObject({ limit: WANTED.most, verdict: 'pass' });
    }
    for (const { least } of stockLevels(good)) expect(least.verdict).toBe('pass');
  });

  it('marks sections short of stock in the map, and draws two trends instead of the characteristics', () => {
    expect(sectionMarks(results).map((m) => m.verdict)).toEqual(results.sections.map(() => 'fail'));
    expect(sectionMarks(good).map((m) => m.verdict)).toEqual(good.sections.map(() => 'pass'));
    expect(trendSeriesOf(results)).toEqual(stockSeries(results));
    expect(stockSeries(results).map((s) => s.name)).toEqual(['least', 'most']);
  });

  it('says not measured where a level has no stock', () => {
    const empty = { ...results.map!, deviation: results.map!.deviation.map((row) => row.map(() => null)) };
    const levels = stockLevels({ ...results, map: empty });
    for (const { least } of levels) expect(least).toMatchObject({ value: null, verdict: 'not-measured' });
  });
});

describe('map of a blank', () => {
  it('is drawn against the stock wanted of its zones, never against trial limits', () => {
    const shown = shownLimits(results, 0.05);
    expect(shown.trial).toBe(false);
    expect(shown.pairs).toEqual([{ lower: WANTED.least, upper: WANTED.most }]);
  });

  it('calls its numbers stock', () => {
    expect(mapNumbers(results).heads[2]).toBe('stock, mm');
    expect(mapNumbers(good).rows.every((row) => row[2] === null || Math.abs(row[2] - EVEN) < 1e-9)).toBe(true);
  });

  it('steps through the areas short of stock, the deepest first, else to the least stock', () => {
    const places = worstPlaces(results);
    expect(places).toEqual(results.stock!.areas.map((area) => area.place));
    const first = stepWorst(results, {}, 1);
    expect(first).toMatchObject({ height: places[0].height, along: places[0].along });
    expect(first.side).toBe(sideAt(results, places[0].height, places[0].along));
    expect(worstPlaces(good)).toEqual([good.stock!.least.place]);
  });
});
