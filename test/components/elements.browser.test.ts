import { afterEach, describe, expect, it } from 'vitest';
import '../../components/controls/foil-number.ts';
import '../../components/controls/foil-verdict.ts';
import '../../components/controls/foil-message.ts';
import '../../components/panels/foil-align.ts';
import '../../components/panels/foil-characteristic-table.ts';
import '../../components/plots/foil-section-plot.ts';
import '../../components/plots/foil-surface-map.ts';
import '../../components/plots/foil-trend-panel.ts';
import { hubOf, shownLimits } from '../../components/plots/hub.ts';
import { picturesOf } from '../../components/plots/pictures.ts';
import { trendSeriesOf } from '../../components/plots/trend-series.ts';
import { installTokens } from '../../components/styles/tokens.ts';
import { RAMP, rgbOf } from '../../src/report/colours.ts';
import { heard, press, put, within } from '../support/elements.ts';
import { exampleResults } from '../support/example-results.ts';

const results = exampleResults();
const shown = shownLimits(results, 0.05);
const hub = hubOf(results, shown, { width: 420, height: 360 }, 'true')!;
installTokens(document);

afterEach(() => document.body.replaceChildren());

describe('controls', () => {
  it('render again when a property is set from outside, without an event', async () => {
    const changes = heard('foil-change');
    const element = await put('foil-number', { label: 'Limit', value: 0.1, decimals: 2 });
    element.value = 0.25;
    await element.updateComplete;
    expect(within<HTMLInputElement>(element, 'input').value).toBe('0.25');
    expect(changes).toEqual([]);
  });

  it('commit a typed number once, hold it to its limits, and refuse words', async () => {
    const changes = heard('foil-change');
    const element = await put('foil-number', { label: 'Limit', value: 0.1, min: 0, max: 1 });
    const input = within<HTMLInputElement>(element, 'input');
    input.value = '0,3';
    input.dispatchEvent(new Event('change'));
    input.value = '7';
    input.dispatchEvent(new Event('change'));
    input.value = 'wide';
    input.dispatchEvent(new Event('change'));
    await element.updateComplete;
    expect(changes.map((c) => c.value)).toEqual([0.3, 1]);
    expect(input.getAttribute('aria-invalid')).toBe('true');
  });

  it('say every verdict as a word beside its shape', async () => {
    for (const [verdict, word] of [
      ['pass', 'Pass'],
      ['fail', 'FAIL'],
      ['not-proven', 'Not proven'],
      ['not-measured', 'Not measured'],
    ] as const) {
      const element = await put('foil-verdict', { verdict });
      expect(element.renderRoot.textContent).toContain(word);
      expect(within(element, 'svg').getAttribute('aria-label')).toBe(word);
    }
  });

  it('show what, where and what to do in an error', async () => {
    const element = await put('foil-message', {
      kind: 'error',
      what: 'It stops early.',
      where: 'a.ply',
      remedy: 'Copy it again.',
    });
    const alert = within(element, '[role=alert]').textContent!;
    for (const part of ['It stops early.', 'a.ply', 'Copy it again.']) expect(alert).toContain(part);
  });
});

describe('surface map', () => {
  it('draws the ramp’s own colours, stripes over them, and dots where nothing was measured', async () => {
    const element = await put('foil-surface-map', { results, hub });
    const areas = [...element.renderRoot.querySelectorAll('[data-step]')];
    expect(areas.length).toBeGreaterThan(3);
    for (const area of areas) {
      const { colour, ink } = RAMP[Number(area.getAttribute('data-step')) + 4];
      expect(getComputedStyle(area).fill).toBe(`rgb(${rgbOf(colour).join(', ')})`);
      const striped = area.nextElementSibling?.getAttribute('fill')?.startsWith('url(#') ?? false;
      expect(striped).toBe(ink !== null);
    }
    expect(within(element, '[data-not-measured]').getAttribute('fill')).toBe('url(#dots)');
  });

  it('moves by the keys of the map and tells nobody when set from outside', async () => {
    const selections = heard('foil-select');
    const worst = heard('foil-worst');
    const element = await put('foil-surface-map', { results, hub, selection: { height: 60, along: 5 } });
    const picture = within(element, 'svg');
    expect(selections).toEqual([]);
    for (const key of ['Home', 'End', 'ArrowUp', 'ArrowLeft', 'N']) press(picture, key);
    press(picture, 'ArrowRight', { shiftKey: true });
    expect(selections[0]).toMatchObject({ height: 60, along: 0 });
    expect(selections[1].along!).toBeGreaterThan(30);
    expect(selections[2]).toMatchObject({ height: 90, sectionId: results.sections[3].id });
    expect(selections[3].along!).toBeLessThan(5);
    expect(selections[4].along!).toBeGreaterThan(5);
    expect(worst).toEqual([{ step: -1 }]);
  });

  it('leaves keys with Ctrl, Alt or the system key to the browser', async () => {
    const selections = heard('foil-select');
    const element = await put('foil-surface-map', { results, hub, selection: { height: 60, along: 5 } });
    expect(press(within(element, 'svg'), 'ArrowLeft', { altKey: true })).toBe(true);
    expect(selections).toEqual([]);
  });
});

describe('plots of a section', () => {
  it('draw the gap magnified, and at true scale when asked', async () => {
    const wanted = heard('foil-magnification');
    const section = results.sections[2];
    const element = await put('foil-section-plot', {
      results,
      section,
      limits: shown,
      pictures: picturesOf(results, null, shown),
    });
    const path = (): string => within(element, 'path.measured').getAttribute('d')!;
    const magnified = path();
    expect(element.renderRoot.textContent).toMatch(/magnified ×\d/);
    press(within(element, 'svg'), 't');
    expect(wanted).toEqual([{ magnification: 1 }]);
    element.magnification = 1;
    await element.updateComplete;
    expect(element.renderRoot.textContent).toContain('true scale');
    expect(path()).not.toBe(magnified);
  });

  it('a trend panel says the value and verdict of the chosen section', async () => {
    const series = trendSeriesOf(results).find((s) => s.of === 'leadingEdge.radiusFit')!;
    const failing = series.verdict.indexOf('fail');
    const element = await put('foil-trend-panel', {
      results,
      series,
      heightDomain: hub.heightDomain,
      selection: { sectionId: series.sections[failing] },
    });
    const label = within(element, 'svg').getAttribute('aria-label')!;
    expect(label).toContain(series.value[failing]!.toFixed(3));
    expect(label).toContain('FAIL');
  });
});

describe('table and alignment', () => {
  it('moves the focus by the grid keys and selects with Enter', async () => {
    const selections = heard('foil-select');
    const element = await put('foil-characteristic-table', { results });
    within<HTMLElement>(element, '[data-cell="0-0"]').focus();
    press(within(element, '[data-cell="0-0"]'), 'ArrowDown');
    await element.updateComplete;
    await element.updateComplete;
    const active = (element.renderRoot as ShadowRoot).activeElement as HTMLElement;
    expect(active.dataset.cell).toBe('1-0');
    expect(element.renderRoot.querySelectorAll('td[tabindex="0"]').length).toBe(1);
    press(active, 'Enter');
    expect(selections[0].characteristicId).toBe(results.characteristics![1].id);
  });

  it('shows six values, six plays and asks for a lock by its motion', async () => {
    const locks = heard('foil-lock');
    const element = await put('foil-align', { alignment: results.alignment! });
    const text = element.renderRoot.textContent!;
    expect(text).toContain('−0.3100 mm');
    expect(text).toContain('+0.1203°');
    expect(text).toContain('weakly');
    within<HTMLInputElement>(element, 'input[aria-label="Lock about Z"]').click();
    expect(locks).toEqual([{ motion: 'rz', locked: true }]);
  });
});
