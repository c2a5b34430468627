import { mkdirSync, readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sampleSet } from '../../samples/generate.ts';
import type { Results } from '../../src/model/results.ts';
import { APP_FOLDER, type AppPage, dropOn, launchBrowser, openApp } from '../support/app-page.ts';
import { goTo } from '../support/example-run.ts';

const set = sampleSet();
const file = (name: string) => set.find((f) => f.name === name)!;
const SHOTS = `${APP_FOLDER}/../app-pictures`;

let browser: Browser;
let app: AppPage;

beforeAll(async () => {
  mkdirSync(SHOTS, { recursive: true });
  browser = await launchBrowser();
  app = await openApp(browser);
});
afterAll(async () => {
  await app?.close();
  await browser?.close();
});

const heading = () => app.page.getByRole('heading', { level: 1 });
const map = () => app.page.getByRole('application', { name: /^Surface map/ });

describe('the whole job in a browser', () => {
  it('reads dropped files and says what was found in them', async () => {
    const { page } = app;
    await dropOn(page, 'Nominal (finished shape)', [file('nominal-sections.csv')]);
    await dropOn(page, 'Measured (scan or probed points)', [file('finished-scan.ply')]);
    await dropOn(page, 'Plan (sections and limits)', [file('plan.json')]);
    await page.getByText('21 sections').waitFor();
    await page.getByText('200 000 points').waitFor({ timeout: 30_000 });
    await page.getByText('TRW-2107, serial 0042, issue').waitFor();
  });

  it('asks for the unit when a file does not say it, and never measures before', async () => {
    const { page } = app;
    await page.getByRole('button', { name: 'Remove nominal-sections.csv' }).click();
    const silent = Uint8Array.from(file('nominal.stl').bytes).fill(32, 0, 80);
    await dropOn(page, 'Nominal (finished shape)', [{ name: 'nominal.stl', bytes: silent }]);
    await page.getByText('nominal.stl does not say its unit').waitFor();
    expect(await page.getByRole('button', { name: 'Measure', exact: true }).isDisabled()).toBe(true);
    const sizes = await page.getByRole('group', { name: /does not say its unit/ }).textContent();
    expect(sizes).toMatch(/mm: part is [\d.]+ × [\d.]+ × 120\.0 mm/);
    expect(sizes).toMatch(/inch: part is .* × 3048 mm/);
    await page.getByRole('button', { name: 'Remove nominal.stl' }).click();
    await dropOn(page, 'Nominal (finished shape)', [file('nominal-sections.csv')]);
    await page.getByText('21 sections').waitFor();
  });

  it('shows progress within 200 ms, stops within 500 ms, and starts again', async () => {
    const { page } = app;
    const measure = page.getByRole('button', { name: 'Measure', exact: true });
    const bar = page.getByRole('progressbar');
    const times = await measure.evaluate(async (button: HTMLElement) => {
      const root = (button.getRootNode() as ShadowRoot).host.getRootNode() as ShadowRoot;
      const until = (found: () => unknown) =>
        new Promise<void>((resolve) => {
          const look = () => (found() ? resolve() : requestAnimationFrame(look));
          look();
        });
      const part = root.querySelector('foil-part-page')!.shadowRoot!;
      const progress = () => part.querySelector('.start foil-progress')?.shadowRoot;
      const clicked = performance.now();
      button.click();
      await until(() => progress()?.querySelector('[role=progressbar]'));
      const shown = performance.now();
      await new Promise((resolve) => setTimeout(resolve, 400));
      const cancel = progress()?.querySelector('button');
      const stopped = performance.now();
      cancel?.click();
      await until(() => !progress());
      return { shown: shown - clicked, cancelled: performance.now() - stopped, had: cancel !== undefined };
    });
    expect(times.had).toBe(true);
    expect(times.shown).toBeLessThan(200);
    expect(times.cancelled).toBeLessThan(500);
    expect(await heading().textContent()).toMatch(/Ready to measure/);
    await measure.click();
    await bar.waitFor();
    await page.getByRole('button', { name: 'Measure again' }).waitFor({ timeout: 120_000 });
  });

  it('answers with the sentence of the results file', async () => {
    const { page } = app;
    const part = await heading().textContent();
    await goTo(page, 'Sections');
    const sections = await heading().textContent();
    await goTo(page, 'Report');
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'All results (JSON)' }).click();
    const results = JSON.parse(readFileSync(await (await download).path(), 'utf8')) as Results;
    expect(part).toContain(results.answers.part!.text);
    expect(sections).toContain(results.answers.sections!.text);
    expect(results.inputs.measured![0].name).toBe('finished-scan.ply');
    const frame = page.frameLocator('iframe');
    await frame.getByRole('heading', { level: 1 }).waitFor();
    expect(await frame.locator('body').textContent()).toContain(results.answers.sections!.text.slice(0, 40));
  });

  it('lets every view follow a place chosen in the map, within 100 ms', async () => {
    const { page } = app;
    await goTo(page, 'Sections');
    await map().waitFor();
    const before = await page.getByRole('heading', { name: /^Section at/ }).textContent();
    const box = (await map().locator('.focus').boundingBox())!;
    const delay = await map()
      .locator('.focus')
      .evaluate(
        async (element, [x, y]) => {
          const page = (
            (element.getRootNode() as ShadowRoot).host.getRootNode() as ShadowRoot
          ).host.getRootNode() as ShadowRoot;
          const head = () => page.querySelector('foil-section-plot')!.shadowRoot!.querySelector('h3')!.textContent;
          const old = head();
          const start = performance.now();
          const at = { clientX: x, clientY: y, bubbles: true, composed: true, button: 0, pointerId: 1 };
          element.dispatchEvent(new PointerEvent('pointerdown', at));
          while (head() === old && performance.now() - start < 2000) await new Promise((r) => setTimeout(r, 1));
          return performance.now() - start;
        },
        [box.x + 0.3 * box.width, box.y + 0.2 * box.height],
      );
    expect(delay).toBeLessThan(100);
    const section = await page.getByRole('heading', { name: /^Section at/ }).textContent();
    expect(section).not.toBe(before);
    const height = /at ([\d.]+) mm/.exec(section!)![1];
    await page.getByRole('application', { name: new RegExp(`^Deviation along the outline at ${height}`) }).waitFor();
    for (const trend of await page.getByRole('application', { name: /over height/ }).all())
      expect(await trend.getAttribute('aria-label')).toMatch(/Here /);
    const row = page.locator('tr.here').first();
    expect(await row.textContent()).toContain(Number(height).toFixed(2));
    await page.locator('.marker').waitFor();
  });

  it('lets the map follow the table, a trend, the section plot and 3D', async () => {
    const { page } = app;
    const label = () => map().getAttribute('aria-label');
    let before = await label();
    const follows = async (what: string, act: () => Promise<unknown>) => {
      await act();
      await expect.poll(label, { message: what, timeout: 2000 }).not.toBe(before);
      before = await label();
    };
    await follows('table', () =>
      page
        .getByRole('row', { name: /Leading edge radius/ })
        .first()
        .click(),
    );
    await follows('trend', async () => {
      await page.getByRole('application', { name: /^chord over height/ }).focus();
      await page.keyboard.press('ArrowUp');
    });
    await follows('section plot', async () => {
      await page.getByRole('application', { name: /^Section at/ }).focus();
      await page.keyboard.press('ArrowRight');
    });
    await follows('outline plot', async () => {
      await page.getByRole('application', { name: /^Deviation along/ }).focus();
      await page.keyboard.press('Shift+ArrowRight');
    });
    await follows('next worst', async () => {
      await map().focus();
      await page.keyboard.press('n');
    });
    await follows('3D', async () => {
      const canvas = page.locator('canvas');
      const box = (await canvas.boundingBox())!;
      await canvas.click({ position: { x: box.width / 2, y: box.height / 2 } });
    });
  });

  it('marks results as out of date when a lock changes, and holds back the outputs', async () => {
    const { page } = app;
    await goTo(page, 'Part');
    await page.getByRole('checkbox', { name: 'Lock Z', exact: true }).check();
    await page.getByText('Out of date.').waitFor();
    await goTo(page, 'Report');
    expect(await page.getByRole('button', { name: 'Report (HTML)' }).isDisabled()).toBe(true);
    await goTo(page, 'Part');
    await page.getByRole('button', { name: 'Measure again' }).click();
    await page.getByText('Out of date.').waitFor({ state: 'detached', timeout: 120_000 });
  });

  it('sent nothing anywhere and logged no error', () => {
    expect(app.strangers).toEqual([]);
    expect(app.faults).toEqual([]);
  });
});
