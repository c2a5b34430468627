import type { LitElement } from 'lit';
import { afterEach, describe, expect, it } from 'vitest';
import '../../components/panels/foil-characteristic-table.ts';
import '../../components/panels/foil-definition-choice.ts';
import '../../components/panels/foil-definition-list.ts';
import '../../components/panels/foil-fault-list.ts';
import '../../components/panels/foil-row-dialog.ts';
import '../../components/plots/foil-edge-closeup.ts';
import '../../components/plots/foil-surface-map.ts';
import { hubOf, shownLimits } from '../../components/plots/hub.ts';
import type { Trial } from '../../components/state/definition-choice.ts';
import { installTokens } from '../../components/styles/tokens.ts';
import { definitionsByPath } from '../../src/judge/definitions-by-path.ts';
import type { Fault, Results } from '../../src/model/results.ts';
import { measured } from '../../src/model/value.ts';
import { heard, press, put, within } from '../support/elements.ts';
import { exampleResults } from '../support/example-results.ts';

const FAULT: Fault = {
  kind: 'nick',
  place: { height: 60, along: -0.4, side: 'leading-edge', point: [0, 0, 60] },
  depth: -0.08,
  u: 0.004,
  width: 0.5,
  length: 0.9,
  points: 40,
  message: 'Material is missing.',
};
const results: Results = { ...exampleResults(), faults: [FAULT] };
const definitions = definitionsByPath();
const row = results.characteristics!.find((c) => c.of === 'leadingEdge.radiusFit' && c.section === '3')!;
const rule = { rule: 'guarded', factor: 1.65 } as const;
installTokens(document);

afterEach(() => document.body.replaceChildren());

/** A trial of the radius over an arc of a circle, answered. */
function trialOf(halfAngleDeg: number, value: number): Trial {
  const angleDeg = Array.from({ length: 121 }, (_, i) => i - 60);
  const at = angleDeg.map((deg) => Math.PI + (deg * Math.PI) / 180);
  const evidence = { centreX: 0, centreY: 0 };
  return {
    ask: { section: '3', of: row.of, definition: 'R-LSQ', parameters: { halfAngleDeg } },
    answered: true,
    failure: null,
    reply: {
      nominal: null,
      measured: measured(value, 0.002, 'mm', 'R-LSQ', { evidence }),
      row: { ...row, definition: 'R-LSQ', parameters: { halfAngleDeg }, value, u: 0.002, verdict: 'fail' },
      edge: {
        angleDeg,
        residual: angleDeg.map(() => 0),
        x: at.map((a) => value * Math.cos(a)),
        y: at.map((a) => value * Math.sin(a)),
      },
    },
  };
}

describe('How? of a row', () => {
  it('is a cell of the grid that opens by click alone, once', async () => {
    const asked = heard('foil-how');
    const chosen = heard('foil-select');
    const table = await put('foil-characteristic-table', { results });
    const button = within<HTMLButtonElement>(table, `[data-how="${CSS.escape(row.id)}"]`);
    expect(button.getAttribute('aria-label')).toBe(`How? ${row.name}, 3 at 60.00 mm`);
    button.click();
    expect(asked).toEqual([{ characteristicId: row.id }]);
    expect(chosen).toEqual([]);
  });

  it('is reached with End and left with the arrows; Enter and Space are its own', async () => {
    const table = await put('foil-characteristic-table', { results });
    const first = within<HTMLElement>(table, '[data-cell="0-0"]');
    first.focus();
    press(first, 'End');
    await table.updateComplete;
    const active = (): Element => (table.renderRoot as ShadowRoot).activeElement!;
    await expect.poll(() => active().getAttribute('data-how')).toBe(results.characteristics![0].id);
    expect(press(active(), 'Enter')).toBe(true);
    expect(press(active(), ' ')).toBe(true);
    press(active(), 'ArrowDown');
    await expect.poll(() => active().getAttribute('data-how')).toBe(results.characteristics![1].id);
  });
});

describe('the dialog of a row', () => {
  it('opens on the row, asks for its own measure, and tells all that is known', async () => {
    const asked = heard('foil-attempt');
    const dialog = await put('foil-row-dialog', { results, definitions, rule });
    await dialog.show(row.id);
    expect(within<HTMLDialogElement>(dialog, 'dialog').open).toBe(true);
    expect(asked[0]).toMatchObject({ slot: 'row', ask: { section: '3', of: row.of, definition: row.definition } });
    expect(within(dialog, 'h2').textContent).toContain(row.name);
    const how = within<LitElement>(dialog, 'foil-how');
    await how.updateComplete;
    expect(how.renderRoot.textContent).toContain('Uncertainty by source');
  });

  it('shows what is tried beside what is in use, and uses it when asked', async () => {
    const used = heard('foil-use');
    const dialog = await put('foil-row-dialog', { results, definitions, rule });
    await dialog.show(row.id);
    const use = (): HTMLButtonElement => within<HTMLButtonElement>(dialog, '.foot button.strong');
    expect(use().disabled).toBe(true);
    dialog.trial = trialOf(40, 0.31);
    await dialog.updateComplete;
    const lines = [...dialog.renderRoot.querySelectorAll('.numbers tbody tr')].map((line) => line.textContent);
    expect(lines).toHaveLength(2);
    expect(lines[1]).toContain('0.310 mm');
    use().click();
    expect(used).toEqual([
      {
        now: { of: row.of, definition: 'R-LSQ', parameters: { halfAngleDeg: 40 } },
        before: { of: row.of, definition: row.definition, parameters: { halfAngleDeg: 60, ...row.parameters } },
      },
    ]);
    dialog.trial = { ...trialOf(40, 0.31), answered: false };
    await dialog.updateComplete;
    expect(use().disabled).toBe(true);
    dialog.trial = trialOf(40, 0.31);
    dialog.stale = true;
    await dialog.updateComplete;
    expect(use().disabled).toBe(true);
  });

  it('forgets what was tried when it closes, and gives the focus back', async () => {
    const forgotten = heard('foil-forget');
    const opener = document.createElement('button');
    document.body.append(opener);
    opener.focus();
    const dialog = await put('foil-row-dialog', { results, definitions, rule });
    await dialog.show(row.id);
    within<HTMLDialogElement>(dialog, 'dialog').close();
    await expect.poll(() => forgotten.length).toBe(1);
    expect(document.activeElement).toBe(opener);
  });
});

describe('a dialog that is closed and opened again at once', () => {
  it('keeps the row it was opened on when the word of the closing comes late', async () => {
    const asked = heard('foil-forget');
    const dialog = await put('foil-row-dialog', { results, definitions, rule });
    await dialog.show(row.id);
    const box = within<HTMLDialogElement>(dialog, 'dialog');
    box.close();
    await dialog.show(row.id);
    box.dispatchEvent(new Event('close'));
    await dialog.updateComplete;
    expect(within(dialog, 'h2')?.textContent).toContain(row.name);
    expect(asked).toEqual([]);
  });

  it('keeps its list', async () => {
    const list = await put('foil-definition-list', { results, definitions });
    await list.show();
    const box = within<HTMLDialogElement>(list, 'dialog');
    box.close();
    await list.show();
    box.dispatchEvent(new Event('close'));
    await list.updateComplete;
    expect(within(list, 'h2')?.textContent).toBe('Definitions in use');
  });
});

describe('choice of a definition', () => {
  it('offers each with its drawing; another choice starts from its defaults', async () => {
    const chosen = heard('foil-choice');
    const infos = definitions[row.of];
    const choice = { definition: 'R-LSQ', parameters: { halfAngleDeg: 60 } };
    const element = await put('foil-definition-choice', { of: row.of, infos, choice, used: 'R-LSQ' });
    expect(element.renderRoot.querySelectorAll('input[type=radio]')).toHaveLength(infos.length);
    for (const drawing of element.renderRoot.querySelectorAll('foil-definition-drawing')) {
      await drawing.updateComplete;
      expect(drawing.shadowRoot!.querySelector('svg')).not.toBeNull();
    }
    within<HTMLInputElement>(element, '#R-SB').click();
    const spec = infos.find((one) => one.id === 'R-SB')!.parameters[0];
    expect(chosen).toEqual([{ definition: 'R-SB', parameters: { [spec.name]: spec.default } }]);
  });

  it('follows a number while it is typed, within its limits only', async () => {
    const chosen = heard('foil-choice');
    const choice = { definition: 'R-LSQ', parameters: { halfAngleDeg: 60 } };
    const element = await put('foil-definition-choice', { of: row.of, infos: definitions[row.of], choice });
    const field = within<LitElement>(element, 'foil-number');
    await field.updateComplete;
    const input = within<HTMLInputElement>(field, 'input');
    for (const text of ['4', '45', '450']) {
      input.value = text;
      input.dispatchEvent(new Event('input', { bubbles: true, composed: true }));
    }
    expect(chosen.map((one) => one.parameters.halfAngleDeg)).toEqual([45]);
  });
});

describe('close-up of an edge', () => {
  const spec = definitions[row.of][0].parameters[0] as Extract<
    (typeof definitions)[string][0]['parameters'][0],
    { unit: string }
  >;

  it('moves its range by the keys of a slider, held to the limits', async () => {
    const moved = heard('foil-fit-range');
    const element = await put('foil-edge-closeup', { trial: trialOf(60, 0.3), range: spec });
    const slider = within(element, '[role=slider]');
    expect(slider.getAttribute('aria-valuetext')).toBe('60 degrees to each side');
    for (const [key, shift] of [
      ['ArrowLeft', false],
      ['ArrowRight', true],
      ['Home', false],
      ['End', false],
      ['x', false],
    ] as const)
      press(slider, key, { shiftKey: shift });
    expect(moved.map((one) => one.halfAngleDeg)).toEqual([59, 70, spec.least, spec.most]);
  });

  it('drags either handle to the same angle on both sides', async () => {
    const moved = heard('foil-fit-range');
    const element = await put('foil-edge-closeup', { trial: trialOf(60, 0.3), range: spec, width: 500 });
    const [left] = element.renderRoot.querySelectorAll<SVGGElement>('.handle');
    const box = left.getBoundingClientRect();
    const at = { bubbles: true, composed: true, cancelable: true, pointerId: 1, clientY: box.y + 20 };
    left.setPointerCapture = () => undefined;
    left.hasPointerCapture = () => true;
    left.dispatchEvent(new PointerEvent('pointerdown', { ...at, clientX: box.x + box.width / 2 }));
    left.dispatchEvent(new PointerEvent('pointermove', { ...at, clientX: box.x + box.width / 2 + 30 }));
    const last = moved[moved.length - 1].halfAngleDeg;
    expect(last).toBeLessThan(60);
    expect(last).toBeGreaterThan(spec.least);
  });

  it('says so where no curve is fitted', async () => {
    const trial = trialOf(60, 0.3);
    const reply = { nominal: null, measured: trial.reply!.measured, row };
    const element = await put('foil-edge-closeup', { trial: { ...trial, reply } });
    expect(element.renderRoot.textContent).toContain('No curve is fitted');
  });
});

describe('faults', () => {
  it('are listed with their size, and shown at their place', async () => {
    const shown = heard('foil-select');
    const list = await put('foil-fault-list', { results });
    expect(list.renderRoot.textContent).toContain('Faults of the surface 1');
    const cells = [...list.renderRoot.querySelectorAll('tbody td, tbody th')].map((cell) => cell.textContent!.trim());
    expect(cells.slice(0, 7)).toEqual([
      '1',
      'Nick',
      'leading edge, 60.00 mm high, 0.40 mm from the leading edge',
      '−0.080',
      '0.008',
      '0.50',
      '0.90',
    ]);
    within<HTMLButtonElement>(list, 'td button').click();
    expect(shown[0]).toMatchObject({ height: 60, along: -0.4, sectionId: '3' });
  });

  it('stand on the map by the same number', async () => {
    const hub = hubOf(results, shownLimits(results, 0.05), { width: 420, height: 360 }, 'true')!;
    const map = await put('foil-surface-map', { results, hub });
    const marks = map.renderRoot.querySelectorAll('[data-fault]');
    expect([...marks].map((mark) => mark.getAttribute('data-fault'))).toEqual(['1']);
    expect(marks[0].getAttribute('transform')).toBe(`translate(${hub.geometry.x(-0.4, 60)} ${hub.geometry.y(60)})`);
  });

  it('say whether none were looked for or none were found', async () => {
    const none = await put('foil-fault-list', { results: { ...results, faults: [] } });
    expect(none.renderRoot.textContent).toContain('No nick, bump or flat');
    const absent = await put('foil-fault-list', { results: { ...results, faults: undefined } });
    expect(absent.renderRoot.textContent).toContain('None were looked for');
  });
});
