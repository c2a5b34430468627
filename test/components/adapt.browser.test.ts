import type { LitElement } from 'lit';
import { afterEach, describe, expect, it } from 'vitest';
import '../../components/panels/foil-adapt.ts';
import type { FoilAdapt } from '../../components/panels/foil-adapt.ts';
import { changeReview, INITIAL_REVIEW, type ReviewState, reviewDone } from '../../components/state/review-state.ts';
import { installTokens } from '../../components/styles/tokens.ts';
import { heard } from '../support/elements.ts';
import { exampleAdapt, refusedAdapt } from '../support/example-adapt.ts';
import { exampleBlank } from '../support/example-blank.ts';

installTokens(document);
const reply = exampleBlank();
const { results } = reply;
const done = reviewDone(INITIAL_REVIEW, reply, { wanted: null, first: true, seconds: 1 });
const adapted: ReviewState = { ...done, adapted: exampleAdapt(results) };

/** The panel with everything inside it drawn. */
async function put(review: ReviewState, more: Partial<FoilAdapt> = {}): Promise<FoilAdapt> {
  const element = Object.assign(document.createElement('foil-adapt'), { review, ...more });
  document.body.append(element);
  await settled(element);
  return element;
}
const section = (panel: FoilAdapt) => panel.renderRoot.querySelector('foil-adapted-section');
const edges = (panel: FoilAdapt) => section(panel)?.renderRoot.querySelector('foil-adapted-edges') ?? null;

async function settled(panel: FoilAdapt): Promise<void> {
  await panel.updateComplete;
  await section(panel)?.updateComplete;
  await edges(panel)?.updateComplete;
}
const button = (element: LitElement, name: string): HTMLButtonElement =>
  [...element.renderRoot.querySelectorAll('button')].find(
    (one) => (one.getAttribute('aria-label') ?? one.textContent!.trim()) === name,
  )!;
const words = (element: LitElement): string => element.renderRoot.textContent!.replace(/\s+/g, ' ');

afterEach(() => document.body.replaceChildren());

describe('the panel of adapted edges', () => {
  it('asks for the edges, and only while no trial is open', async () => {
    const actions = heard('foil-review');
    const panel = await put(done);
    button(panel, 'Adapt the edges').click();
    expect(actions).toEqual([{ act: 'adapt', method: 'edges' }]);
    panel.review = changeReview(done, { act: 'move', motion: 'y', value: -0.2 });
    await settled(panel);
    expect(button(panel, 'Adapt the edges').disabled).toBe(true);
    expect(words(panel)).toContain('Trial: confirm it first.');
    expect(section(panel)).toBeNull();
  });

  it('says the answer, what stays, the checks, and where it departs', async () => {
    const text = words(await put(adapted));
    expect(text).toContain(adapted.adapted!.answer.text);
    expect(text).toContain('The suction side stays as forged. Within both profile limits.');
    expect(text).toContain('Chord off the nominal 0.0021 mm 0.0100 mm');
    expect(text).toContain('Departs from nominal: most +0.050 mm at 60.0 mm height, suction side');
  });

  it('draws both edges at one scale, junctions marked, every line of its own dash and width', async () => {
    const drawn = edges(await put(adapted))!;
    const pictures = [...drawn.renderRoot.querySelectorAll('svg.edge')];
    expect(pictures.map((picture) => picture.getAttribute('role'))).toEqual(['img', 'img']);
    for (const picture of pictures) {
      expect(picture.querySelector('title')!.textContent).toMatch(/edge of section .* at \d/);
      expect(picture.querySelectorAll('circle.junction')).toHaveLength(2);
      const lines = [...picture.querySelectorAll('path.line')];
      const looks = lines.map((line) => {
        const { strokeDasharray, strokeWidth } = getComputedStyle(line);
        return `${strokeDasharray} ${strokeWidth}`;
      });
      expect(new Set(looks).size).toBe(3);
      for (const line of lines) expect(line.getAttribute('d')!.length).toBeGreaterThan(40);
    }
    const numbers = drawn.renderRoot.querySelector('foil-numbers')!;
    await numbers.updateComplete;
    const details = numbers.renderRoot.querySelector('details')!;
    details.open = true;
    await new Promise((resolve) => details.addEventListener('toggle', resolve, { once: true }));
    await numbers.updateComplete;
    expect(numbers.renderRoot.querySelectorAll('thead th')).toHaveLength(7);
  });

  it('lists both edges of a section and steps to the next', async () => {
    const places = heard('foil-select');
    const panel = await put(adapted, { selection: { height: results.sections[0].height } });
    const shown = section(panel)!;
    const rows = [...shown.renderRoot.querySelectorAll('tbody tr')].map((row) => row.textContent!.replace(/\s+/g, ' '));
    expect(rows[0]).toContain('ellipse, G2');
    expect(rows[0]).toContain('0.815 against 0.812 at 0.5');
    expect(rows[1]).toContain('Curvature that does not rise to the nose');
    expect(button(shown, 'Previous adapted section').disabled).toBe(true);
    button(shown, 'Next adapted section').click();
    expect(places[0].sectionId).toBe(results.sections[1].id);
    expect(places[0].height).toBe(results.sections[1].height);
  });

  it('saves each file under the name of the part', async () => {
    const panel = await put(adapted, { file: '7731-B' });
    const saved: string[] = [];
    const click = HTMLAnchorElement.prototype.click;
    HTMLAnchorElement.prototype.click = function () {
      saved.push(this.download);
    };
    for (const name of ['Sections (CSV)', 'Surface (STL)', 'Surface (STEP)', 'Surface (IGES)'])
      button(panel, `Save ${name}`).click();
    HTMLAnchorElement.prototype.click = click;
    const { files } = adapted.adapted!;
    expect(saved).toEqual(files.map(({ name }) => `7731-B-${name}`));
    await settled(panel);
    expect(words(panel)).toContain('7731-B-adapted.igs saved.');
  });

  it('shows why it is refused, and offers nothing to draw or to save', async () => {
    const panel = await put({ ...done, adapted: refusedAdapt(results) });
    expect(words(panel)).toContain('Cannot be adapted: section');
    expect(words(panel)).toContain(`Sections ${results.sections.map(({ id }) => id).join(', ')}.`);
    expect(edges(panel)).toBeNull();
    expect(button(panel, 'Save Sections (CSV)')).toBeUndefined();
  });

  it('marks edges of another placement as out of date and saves none of them', async () => {
    const panel = await put(changeReview(adapted, { act: 'move', motion: 'y', value: -0.2 }));
    expect(words(panel)).toContain('Out of date.');
    expect(button(panel, 'Save Surface (STEP)').disabled).toBe(true);
  });

  it('says what went wrong when the edges could not be computed', async () => {
    const failure = { code: 'fault/worker', message: 'The worker broke.', where: null, remedy: 'Reload.' };
    const panel = await put({ ...done, adaptFailure: failure });
    expect((panel.renderRoot.querySelector('foil-message') as LitElement & { what: string }).what).toBe(
      'The worker broke.',
    );
  });
});
