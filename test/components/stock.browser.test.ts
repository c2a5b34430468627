import type { LitElement } from 'lit';
import { afterEach, describe, expect, it } from 'vitest';
import '../../components/panels/foil-compare.ts';
import '../../components/panels/foil-datum.ts';
import '../../components/panels/foil-offset-card.ts';
import '../../components/panels/foil-stock-align.ts';
import '../../components/panels/foil-stock-page.ts';
import '../../components/panels/foil-stock-table.ts';
import '../../components/plots/foil-curve.ts';
import { INITIAL_STATE } from '../../components/state/app-state.ts';
import {
  changeReview,
  INITIAL_REVIEW,
  type ReviewAction,
  type ReviewState,
  reviewDone,
} from '../../components/state/review-state.ts';
import { trialField } from '../../components/state/review-trial.ts';
import { installTokens } from '../../components/styles/tokens.ts';
import { heard, press, put, within } from '../support/elements.ts';
import { exampleBlank, SHIFT } from '../support/example-blank.ts';

installTokens(document);
const reply = exampleBlank();
const done = reviewDone(INITIAL_REVIEW, reply, { wanted: null, first: true, seconds: 1 });
const curves = trialField(reply, reply.zones).curves([0, 0, 0, 0, 0, 0], null);

afterEach(() => document.body.replaceChildren());

describe('a small curve', () => {
  const y = curves.find((curve) => curve.axis === 'y')!;

  it('is a slider: it says value, result and best, and steps by the arrow keys', async () => {
    const inputs = heard('foil-input');
    const element = await put('foil-curve', {
      label: 'Y',
      shows: 'least spare stock',
      x: y.values,
      y: y.spare,
      now: 0,
      best: y.best,
    });
    const slider = within(element, '[role=slider]');
    expect(slider.getAttribute('aria-valuetext')).toMatch(
      /^0\.000 mm: least spare stock −0\.\d\d mm; best at −0\.\d{3}$/,
    );
    press(slider, 'ArrowLeft');
    press(slider, 'ArrowRight', { shiftKey: true });
    expect(inputs.map((i) => i.value)).toEqual([-0.01, 0.1]);
  });

  it('stays where it is while it is locked, and inside its range', async () => {
    const inputs = heard('foil-input');
    const element = await put('foil-curve', { label: 'Y', x: y.values, y: y.spare, now: 0, locked: true });
    press(within(element, '[role=slider]'), 'ArrowLeft');
    expect(inputs).toEqual([]);
    element.locked = false;
    element.range = [-0.005, 0.2];
    await element.updateComplete;
    press(within(element, '[role=slider]'), 'ArrowLeft');
    press(within(element, '[role=slider]'), 'End');
    expect(inputs.map((i) => i.value)).toEqual([-0.005, 0.2]);
  });
});

describe('the alignment of a blank', () => {
  it('locks by L in a row, tries values, and names why a datum fit cannot be made', async () => {
    const actions = heard('foil-review');
    const element = await put('foil-stock-align', { review: done, curves });
    const row = [...element.renderRoot.querySelectorAll('.motion')][1];
    press(row.querySelector('foil-curve')!, 'l');
    const field = row.querySelector('foil-number') as LitElement;
    const input = within<HTMLInputElement>(field, 'input');
    input.value = '-0,25';
    input.dispatchEvent(new Event('input'));
    await field.updateComplete;
    expect(input.value).toBe('-0,25');
    expect(actions).toEqual([
      { act: 'lock', motion: 'y', locked: true },
      { act: 'move', motion: 'y', value: -0.25 },
    ]);
    const datum = [...element.renderRoot.querySelectorAll('button')].find((b) => b.textContent!.includes('Datum'))!;
    expect(datum.disabled).toBe(true);
    expect(element.renderRoot.textContent).toContain('the plan names no targets');
  });

  it('reads ranges with one end free, and frees them again', async () => {
    const actions = heard('foil-review');
    const element = await put('foil-stock-align', { review: done, curves });
    const low = within<HTMLInputElement>(element, 'input[aria-label^="X, lowest"]');
    low.value = '-0.4';
    low.dispatchEvent(new Event('change'));
    expect(actions.at(-1)).toEqual({ act: 'range', motion: 'x', range: [-0.4, Number.POSITIVE_INFINITY] });
    element.review = changeReview(done, { act: 'range', motion: 'x', range: [-0.4, Number.POSITIVE_INFINITY] });
    await element.updateComplete;
    low.value = '';
    low.dispatchEvent(new Event('change'));
    expect(actions.at(-1)).toEqual({ act: 'range', motion: 'x', range: null });
  });

  it('offers confirm and back only while something is tried', async () => {
    const element = await put('foil-stock-align', { review: done, curves });
    expect(within(element, '.trial')).toBeNull();
    element.review = changeReview(done, { act: 'move', motion: 'y', value: -0.2 });
    await element.updateComplete;
    expect(within(element, '.trial').textContent).toContain('Trial.');
  });
});

describe('the Stock page', () => {
  const state = (review: ReviewState) => ({ ...INITIAL_STATE, page: 'stock' as const, review });

  it('asks for a review or the example while there is none', async () => {
    const actions = heard('foil-review');
    const element = await put('foil-stock-page', { state: state(INITIAL_REVIEW) });
    const bar = within<LitElement>(element, 'foil-stock-actions');
    await bar.updateComplete;
    const [review, example] = [...bar.renderRoot.querySelectorAll('button')];
    expect(review.disabled).toBe(true);
    example.click();
    expect(actions).toEqual([{ act: 'example' }] satisfies ReviewAction[]);
  });

  it('shows a trial at once in answer and map, and asks to confirm its matrix', async () => {
    const element = await put('foil-stock-page', { state: state(done) });
    const answer = () => within<LitElement & { answer: { text: string } }>(element, 'foil-answer').answer.text;
    expect(answer()).toBe(reply.results.answers.stock!.text);
    const actions = heard('foil-review');
    element.state = state(changeReview(done, { act: 'move', motion: 'y', value: -SHIFT[1] }));
    await element.updateComplete;
    expect(answer()).toMatch(/^Trial: /);
    within(element, 'foil-stock-align').dispatchEvent(
      new CustomEvent('foil-confirm', { bubbles: true, composed: true }),
    );
    const asked = actions.at(-1) as { act: string; matrix: number[] };
    expect(asked.act).toBe('confirm');
    expect(asked.matrix[7]).toBeCloseTo(-SHIFT[1], 12);
  });
});

describe('kept results and the offset card', () => {
  const two = changeReview(
    reviewDone(changeReview(done, { act: 'keep' }), exampleBlank([-SHIFT[0], -SHIFT[1], 0], 'share-stock'), {
      wanted: null,
      first: false,
      seconds: 1,
    }),
    { act: 'keep' },
  );

  it('draw a map each and the differences, and choose, rename and remove', async () => {
    const actions = heard('foil-review');
    const pairs = heard('foil-choose');
    const element = await put('foil-compare', { kept: two.kept });
    expect(element.renderRoot.querySelectorAll('figure svg').length).toBe(2);
    expect(element.renderRoot.textContent).toContain('placement (best fit; share stock evenly)');
    const select = within<HTMLSelectElement>(element, 'select');
    select.value = two.kept[1].key;
    select.dispatchEvent(new Event('change'));
    expect(pairs).toEqual([{ from: two.kept[1].key, to: two.kept[1].key }]);
    const name = within<HTMLInputElement>(element, 'input.name');
    name.value = 'before';
    name.dispatchEvent(new Event('change'));
    within<HTMLButtonElement>(element, 'button[aria-label="Remove A"]').click();
    expect(actions).toEqual([
      { act: 'rename', key: two.kept[0].key, name: 'before' },
      { act: 'unkeep', key: two.kept[0].key },
    ]);
  });

  it('show values, order, pivot and check point to four decimals, by what moves', async () => {
    const { offsets } = exampleBlank([0.042, -0.31, 0.1]).results.stock!;
    const element = await put('foil-offset-card', { offsets, named: '7731-B' });
    element.show();
    await element.updateComplete;
    const values = () => [...element.renderRoot.querySelectorAll('.values dd')].map((d) => d.textContent!.trim());
    expect(values()[0]).toMatch(/^−0\.0420\s+mm$/);
    within<HTMLInputElement>(element, 'input[value=part]').click();
    await element.updateComplete;
    expect(values()[0]).toMatch(/^\+0\.0420\s+mm$/);
    expect(within(element, 'dialog').textContent).toContain('Z 60.0000 mm');
  });

  it('show a datum fit with its targets and where their uncertainty grows most', async () => {
    const places = heard('foil-select');
    const { place } = reply.results.stock!.areas[0];
    const element = await put('foil-datum', {
      results: reply.results,
      datum: {
        targets: [{ id: 'A1', point: [1, 2, 3], normal: [0, 1, 0], residual: -0.00004, u: 0.005 }],
        condition: 6.8,
        uShift: [0.004, 0.005, 0.006],
        uRotationDeg: [0.01, 0.02, 0.03],
        amplification: { factor: 2.345, place },
      },
    });
    const text = element.renderRoot.textContent!.replace(/\s+/g, ' ');
    expect(text).toContain('A1 1.000 / 2.000 / 3.000 0.000 / 1.000 / 0.000 −0.00004 0.0050');
    expect(text).toContain('grows 2.35 times at most');
    within<HTMLButtonElement>(element, 'button').click();
    expect(places[0]).toMatchObject({ height: place.height, along: place.along });
  });

  it('list short areas and zones, and show the place of one', async () => {
    const places = heard('foil-select');
    const element = await put('foil-stock-table', { results: reply.results });
    const rows = element.renderRoot.querySelectorAll('table')[0].querySelectorAll('tbody tr');
    expect(rows.length).toBe(reply.results.stock!.areas.length);
    rows[0].querySelector('button')!.click();
    const { place } = reply.results.stock!.areas[0];
    expect(places[0]).toMatchObject({ height: place.height, along: place.along });
    expect(element.renderRoot.textContent).toContain('Is to be cut.');
  });
});
