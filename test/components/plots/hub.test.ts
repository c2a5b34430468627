import { describe, expect, it } from 'vitest';
import { edgeCells } from '../../../components/plots/edge-cells.ts';
import { hubOf, sectionMarks, shownLimits } from '../../../components/plots/hub.ts';
import { sectionKey } from '../../../components/plots/plot-keys.ts';
import { spacedMarks } from '../../../components/plots/spaced-marks.ts';
import { trendSeriesOf } from '../../../components/plots/trend-series.ts';
import { exampleResults } from '../../support/example-results.ts';

const results = exampleResults();
const shown = shownLimits(results, 0.05);

describe('hub of the surface map', () => {
  it('draws 10 mm as the same length along and up, within 1 %', () => {
    const { geometry: g } = hubOf(results, shown, { width: 500, height: 400 }, 'true')!;
    const along = g.x(10, 60) - g.x(0, 60);
    const up = g.y(50) - g.y(60);
    expect(Math.abs(along / up - 1)).toBeLessThan(0.01);
    expect(along).toBeCloseTo(10 * g.pxPerMmAlong, 1);
  });
  it('has the leading edge between the two trailing edges, suction side left', () => {
    const hub = hubOf(results, shown, { width: 500, height: 400 }, 'true')!;
    const { plot } = hub.geometry;
    const middle = hub.geometry.x(0, 12);
    expect(Math.abs((middle - plot.x) / plot.width - 0.5)).toBeLessThan(0.1);
    expect(hub.geometry.x(-5, 12)).toBeLessThan(middle);
  });
  it('uses the plan’s limits, and marks trial limits where there are none', () => {
    expect(shown.trial).toBe(false);
    const bare = { ...results, deviation: { ...results.deviation!, zones: [] } };
    expect(shownLimits(bare, 0.05)).toMatchObject({ trial: true, pairs: [{ lower: -0.05, upper: 0.05 }] });
  });
  it('marks a section with its most urgent verdict', () => {
    for (const mark of sectionMarks(results)) {
      const verdicts = results.characteristics!.filter((c) => c.section === mark.id).map((c) => c.verdict);
      if (verdicts.includes('fail')) expect(mark.verdict).toBe('fail');
      else expect(verdicts).toContain(mark.verdict);
    }
  });
});

describe('section marks', () => {
  const marks = [0, 6, 12, 18, 24, 30].map((y, i) => ({ id: `S${i}`, y }));
  it('shrink so that neighbours do not touch, and drop the texts that have no room', () => {
    const placed = spacedMarks(marks, undefined);
    expect(placed[0].scale * 16).toBeCloseTo(6, 10);
    const named = placed.filter((m) => m.named).map((m) => m.y);
    for (let i = 1; i < named.length; i++) expect(named[i] - named[i - 1]).toBeGreaterThanOrEqual(13);
    expect(named.length).toBe(2);
  });
  it('always name the chosen section', () => {
    expect(spacedMarks(marks, 'S1').find((m) => m.id === 'S1')!.named).toBe(true);
    expect(spacedMarks(marks.slice(0, 1), undefined)[0]).toMatchObject({ scale: 1, named: true });
  });
});

describe('edge close-up', () => {
  const hub = hubOf(results, shown, { width: 500, height: 400 }, 'true')!;
  const base = { limits: hub.limits, y: (h: number) => hub.geometry.y(h), left: 10, width: 80, pxPerMm: 20 };
  it('shows the leading edge in its middle and inverts', () => {
    const cells = edgeCells(results.map!, { ...base, edge: 'leading' });
    expect(cells.reach).toBe(2);
    expect(cells.x(0, 5)).toBe(50);
    expect(cells.along(cells.x(-1.2, 5)!, 5)).toBeCloseTo(-1.2, 10);
    expect(cells.x(3, 5)).toBeNull();
  });
  it('joins both borders of the map at the trailing edge, pressure side left', () => {
    const cells = edgeCells(results.map!, { ...base, edge: 'trailing' });
    const row = results.map!.along[5];
    const [first, last] = [row[0], row[row.length - 1]];
    expect(cells.x(last, 5)!).toBeLessThan(50);
    expect(cells.x(first, 5)!).toBeGreaterThan(50);
    expect(cells.along(cells.x(last, 5)!, 5)).toBeCloseTo(last, 10);
    expect(cells.along(cells.x(first, 5)!, 5)).toBeCloseTo(first, 10);
  });
});

describe('margins of the map', () => {
  it('takes limits and verdicts of a trend from its characteristics', () => {
    const series = trendSeriesOf(results).find((s) => s.of === 'leadingEdge.radiusFit')!;
    series.sections.forEach((id, i) => {
      const row = results.characteristics!.find((c) => c.id === `leadingEdge.radiusFit@${id}`)!;
      expect([series.value[i], series.lower[i], series.verdict[i]]).toEqual([
        row.value,
        row.requirement.lower,
        row.verdict,
      ]);
    });
  });
  it('steps along the data points and through the sections', () => {
    const section = results.sections[2];
    const along = section.plot!.along;
    const next = sectionKey('ArrowRight', false, results, section, { along: along[3] })!;
    expect(next.along).toBe(along[4]);
    expect(sectionKey('PageUp', false, results, section, {})!.sectionId).toBe(results.sections[3].id);
    expect(sectionKey('PageUp', false, results, results.sections[4], {})).toBeNull();
    expect(sectionKey('x', false, results, section, {})).toBeNull();
  });
});
