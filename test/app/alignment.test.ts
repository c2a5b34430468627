import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Results } from '../../src/model/results.ts';
import { type AppPage, launchBrowser, openApp } from '../support/app-page.ts';
import { goTo, measureExample, resultsDownload } from '../support/example-run.ts';

let browser: Browser;
let app: AppPage;
beforeAll(async () => {
  browser = await launchBrowser();
  app = await openApp(browser);
  await measureExample(app.page);
});
afterAll(async () => {
  await app?.close();
  await browser?.close();
});

/** A value of the placement as the panel shows it. */
async function reading(motion: string): Promise<string> {
  const row = app.page.getByRole('row').filter({ has: app.page.getByRole('rowheader', { name: motion, exact: true }) });
  return ((await row.locator('td').first().textContent()) ?? '').trim();
}

describe('the alignment panel', () => {
  it('names every play in words, weakest first', async () => {
    const { page } = app;
    const names = await page.locator('foil-align table').nth(1).locator('tbody td:first-child').allTextContents();
    expect(names).toHaveLength(6);
    expect(names[0]).toBe('along the span');
    for (const name of names)
      expect(name).toMatch(/^(across, [XY]|along the span|tilt about [XY]|turn about the span)/);
  });

  it('fits again with Z locked: Z stays, the others still fit best', async () => {
    const { page } = app;
    const free = (JSON.parse(await resultsDownload(page)) as Results).alignment!;
    await goTo(page, 'Part');
    const z = await reading('Z');
    expect(z).toMatch(/^[+−]\d+\.\d{4} mm$/);
    await page.getByRole('checkbox', { name: 'Lock Z', exact: true }).check();
    await page.getByText('Out of date.').waitFor();
    await page.getByRole('button', { name: 'Measure again' }).click();
    await page.getByText('Out of date.').waitFor({ state: 'detached', timeout: 120_000 });
    await page.getByRole('heading', { name: 'Alignment: best fit, Z locked' }).waitFor();
    const held = (JSON.parse(await resultsDownload(page)) as Results).alignment!;
    expect(held.method).toBe('best-fit');
    expect(held.locks).toEqual(['z']);
    await goTo(page, 'Part');
    expect(await reading('Z')).toBe(z);
    expect(Math.abs(held.translation[2] - free.translation[2])).toBeLessThan(1e-5);
    expect(held.residual.rms / free.residual.rms).toBeCloseTo(1, 2);
    expect(held.plays.some(({ motion, play }) => play === 0 && motion[2] === 1)).toBe(true);
  });

  it('fits Z again once it is freed', async () => {
    const { page } = app;
    await goTo(page, 'Part');
    await page.getByRole('checkbox', { name: 'Lock Z', exact: true }).uncheck();
    await page.getByRole('button', { name: 'Measure again' }).click();
    await page.getByRole('heading', { name: 'Alignment: best fit', exact: true }).waitFor({ timeout: 120_000 });
    expect(app.faults).toEqual([]);
  });
});
