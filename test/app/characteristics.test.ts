import { readFileSync } from 'node:fs';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Plan } from '../../src/model/plan.ts';
import type { Results } from '../../src/model/results.ts';
import { type AppPage, launchBrowser, openApp } from '../support/app-page.ts';
import { seriousFindings } from '../support/axe.ts';
import { measureExample, resultsDownload } from '../support/example-run.ts';

let browser: Browser;
let app: AppPage;
let before: Results;

beforeAll(async () => {
  browser = await launchBrowser();
  app = await openApp(browser);
  await measureExample(app.page);
  before = JSON.parse(await resultsDownload(app.page)) as Results;
});
afterAll(async () => {
  await app?.close();
  await browser?.close();
});

const dialog = (): Locator => app.page.getByRole('dialog');
const numberIn = (text: string): number => Number(/-?[\d.]+/.exec(text.replace('−', '-'))![0]);

/** Result, U and verdict of one line of the open row: what is in use, or what is tried. */
async function lineOf(word: 'in use' | 'tried'): Promise<{ value: number; u: string; verdict: string }> {
  const cells = dialog().getByRole('row', { name: new RegExp(`^${word}`) });
  await cells.waitFor();
  const [value, u] = await cells.getByRole('cell').allTextContents();
  const verdict = await cells.getByRole('img').getAttribute('aria-label');
  return { value: numberIn(value), u: u.trim(), verdict: verdict ?? '' };
}

/** Steps with Tab until something with this role and name has the focus. */
async function tabTo(page: Page, target: Locator, most = 120): Promise<void> {
  const focused = (): Promise<boolean> =>
    target.evaluate((element) => {
      const root = element.getRootNode() as Document | ShadowRoot;
      return root.activeElement === element;
    });
  for (let k = 0; k < most; k++) {
    if (await focused()) return;
    await page.keyboard.press('Tab');
  }
  throw new Error('Tab never reached it.');
}

describe('an inspector, by keyboard alone', () => {
  const radius = () => app.page.getByRole('button', { name: 'How? Leading edge radius, S04', exact: false });

  it('opens how the leading-edge radius came about from its row', async () => {
    const { page } = app;
    const sections = page.getByRole('navigation').getByRole('button', { name: 'Sections' });
    await sections.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Characteristics', exact: true }).waitFor();
    const rows = before.characteristics!;
    const at = rows.findIndex((row) => row.of === 'leadingEdge.radiusFit' && row.section === 'S04');
    const cell = page.getByRole('grid').getByRole('gridcell').first();
    await tabTo(page, cell);
    await page.keyboard.press('End');
    for (let k = 0; k < at; k++) await page.keyboard.press('ArrowDown');
    expect(await radius().evaluate((e) => (e.getRootNode() as ShadowRoot).activeElement === e)).toBe(true);
    await page.keyboard.press('Enter');
    await dialog()
      .getByRole('heading', { name: /^Leading edge radius, section S04 at/ })
      .waitFor();
    for (const what of ['points used', 'residual of the fit, rms', 'requirement', 'decision rule', 'guard band g'])
      await dialog().getByRole('term').filter({ hasText: what }).first().waitFor();
    await dialog().getByRole('heading', { name: 'Uncertainty by source' }).waitFor();
    const row = rows[at];
    const shown = await lineOf('in use');
    expect(Math.abs(shown.value - row.value!)).toBeLessThan(6e-4);
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('reads value, U and verdict follow another definition and another angle', async () => {
    const { page } = app;
    const own = await lineOf('in use');
    await tabTo(page, dialog().getByRole('radio', { name: 'Fitted circle, by angle' }));
    const setback = dialog().getByRole('radio', { name: 'Fitted circle, by set-back' });
    let steps = 0;
    for (; steps < 20 && !(await setback.isChecked()); steps++) await page.keyboard.press('ArrowDown');
    const bySetback = await lineOf('tried');
    for (; steps > 0; steps--) await page.keyboard.press('ArrowUp');
    await dialog()
      .getByRole('row', { name: /^tried/ })
      .waitFor({ state: 'detached' });
    const slider = dialog().getByRole('slider');
    await tabTo(page, slider);
    await page.keyboard.press('Home');
    await expect.poll(() => slider.getAttribute('aria-valuenow')).toBe(await slider.getAttribute('aria-valuemin'));
    // The line follows when the worker has answered.
    await expect.poll(async () => Number((await lineOf('tried')).u)).toBeGreaterThan(3 * Number(own.u));
    const narrow = await lineOf('tried');
    expect(narrow.verdict).toMatch(/Not proven|FAIL/);
    expect(new Set([own.value, bySetback.value, narrow.value]).size).toBeGreaterThan(1);
  });

  it('moves the angle to 40° by typing and uses it for the quantity', async () => {
    const { page } = app;
    const field = dialog().getByRole('textbox', { name: 'Half angle' });
    await tabTo(page, field);
    await page.keyboard.press('Control+a');
    await page.keyboard.type('40');
    await expect.poll(() => dialog().getByRole('slider').getAttribute('aria-valuenow')).toBe('40');
    const use = dialog().getByRole('button', { name: 'Use for this quantity' });
    await expect.poll(() => use.isEnabled()).toBe(true);
    const tried = await lineOf('tried');
    await tabTo(page, use);
    await page.keyboard.press('Enter');
    await dialog()
      .getByRole('row', { name: /^tried/ })
      .waitFor({ state: 'detached' });
    expect(await lineOf('in use')).toEqual(tried);
    await dialog().getByRole('button', { name: 'Earlier: R-LSQ, Half angle 60°' }).waitFor();
  });

  it('saves the plan with the chosen definition', async () => {
    const { page } = app;
    const save = dialog().getByRole('button', { name: 'Save as plan' });
    const download = page.waitForEvent('download');
    await tabTo(page, save);
    await page.keyboard.press('Enter');
    const plan = JSON.parse(readFileSync(await (await download).path(), 'utf8')) as Plan;
    expect(plan.definitions).toContainEqual({
      of: 'leadingEdge.radiusFit',
      definition: 'R-LSQ',
      parameters: { halfAngleDeg: 40 },
    });
  });

  it('goes back to the earlier definition, and Escape returns the focus to the row', async () => {
    const { page } = app;
    await tabTo(page, dialog().getByRole('button', { name: /^Earlier: R-LSQ/ }));
    await page.keyboard.press('Enter');
    const use = dialog().getByRole('button', { name: 'Use for this quantity' });
    await expect.poll(() => use.isEnabled()).toBe(true);
    await tabTo(page, use);
    await page.keyboard.press('Enter');
    await dialog()
      .getByRole('row', { name: /^tried/ })
      .waitFor({ state: 'detached' });
    const row = before.characteristics!.find((one) => one.of === 'leadingEdge.radiusFit' && one.section === 'S04')!;
    expect(Math.abs((await lineOf('in use')).value - row.value!)).toBeLessThan(6e-4);
    await page.keyboard.press('Escape');
    await dialog().waitFor({ state: 'detached' });
    expect(await radius().evaluate((e) => (e.getRootNode() as ShadowRoot).activeElement === e)).toBe(true);
  });

  it('reads why a row is not proven', async () => {
    const { page } = app;
    const rows = before.characteristics!;
    const at = rows.findIndex((row) => row.verdict === 'not-proven' && row.section !== null);
    const from = rows.findIndex((row) => row.of === 'leadingEdge.radiusFit' && row.section === 'S04');
    const key = at > from ? 'ArrowDown' : 'ArrowUp';
    for (let k = 0; k < Math.abs(at - from); k++) await page.keyboard.press(key);
    await page.keyboard.press('Space');
    const reason = dialog().getByRole('paragraph').filter({ hasText: 'Why:' });
    await reason.waitFor();
    expect(await reason.textContent()).toMatch(/Too close to a limit|less than g|not known|datum/);
    await page.keyboard.press('Escape');
    await dialog().waitFor({ state: 'detached' });
  });

  it('finds the faults in their list and shows each everywhere', async () => {
    const { page } = app;
    const { faults } = before;
    const list = page.getByRole('heading', { name: /^Faults of the surface/ });
    await list.waitFor();
    if (!faults || faults.length === 0) {
      await page.getByText(/None were looked for|No nick, bump or flat/).waitFor();
      return;
    }
    const nick = faults.findIndex((fault) => fault.kind === 'nick');
    expect(nick).toBeGreaterThanOrEqual(0);
    const show = page.getByRole('button', { name: new RegExp(`^Show ${nick + 1}: Nick`) });
    await show.focus();
    await page.keyboard.press('Enter');
    const height = faults[nick].place.height.toFixed(2);
    await expect
      .poll(() => page.getByRole('application', { name: /^Surface map/ }).getAttribute('aria-label'))
      .toContain(`Chosen: height ${height} mm`);
    expect(await page.locator(`[data-fault="${nick + 1}"]`).count()).toBe(1);
  });

  it('drags nothing to move the range of a close-up: the keys of its slider do', async () => {
    const { page } = app;
    const slider = page.getByRole('slider', { name: /^leading edge, Half angle/ });
    await slider.focus();
    const now = Number(await slider.getAttribute('aria-valuenow'));
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Shift+ArrowLeft');
    await expect.poll(() => slider.getAttribute('aria-valuenow')).toBe(String(now - 11));
    await page.getByText(/tried; in use: Half angle 60°/).waitFor();
    await tabTo(page, page.getByRole('button', { name: 'Back', exact: true }), 400);
    await page.keyboard.press('Enter');
    await expect.poll(() => slider.getAttribute('aria-valuenow')).toBe(String(now));
  });

  it('finds the definitions of every quantity in one list', async () => {
    const { page } = app;
    await page.getByRole('button', { name: 'Definitions', exact: true }).focus();
    await page.keyboard.press('Enter');
    await dialog().getByRole('heading', { name: 'Definitions in use' }).waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    await tabTo(page, dialog().getByRole('button', { name: 'Change Leading edge radius' }));
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: /^Leading edge radius, section/ }).waitFor();
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    await dialog().waitFor({ state: 'detached' });
  });

  it('has no serious accessibility issue on the page, and logged no error', async () => {
    expect(await seriousFindings(app.page)).toEqual([]);
    expect(app.faults).toEqual([]);
    expect(app.strangers).toEqual([]);
  });
});
