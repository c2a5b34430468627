import { mkdirSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { APP_FOLDER, type AppPage, launchBrowser, openApp } from '../support/app-page.ts';
import { seriousFindings } from '../support/axe.ts';

const PICTURES = `${APP_FOLDER}/../app-pictures`;
const SIZES = [
  { width: 1440, height: 900 },
  { width: 820, height: 1180 },
];
/** Tab stops gone through before a control is said to be out of reach. */
const MOST_STOPS = 160;
const ANSWER_MS = 150_000;

/** Name of the control that has the focus, shadow roots included. */
const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    return (at?.getAttribute('aria-label') ?? at?.textContent ?? '').replace(/\s+/g, ' ').trim();
  });

/** Goes on by Tab until the control with this name has the focus. */
async function tabTo(page: Page, name: string | RegExp): Promise<void> {
  for (let stop = 0; stop < MOST_STOPS; stop++) {
    const here = await focused(page);
    if (typeof name === 'string' ? here === name : name.test(here)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`No way by Tab to ${name}.`);
}

const answer = async (page: Page): Promise<string> =>
  ((await page.getByRole('heading', { level: 1 }).textContent()) ?? '').trim();

/** The map as drawn: every filled step with its path. */
const mapPaths = (page: Page): Promise<string[]> =>
  page
    .locator('foil-map-panel foil-surface-map [data-step]')
    .evaluateAll((areas) => areas.map((area) => `${area.getAttribute('data-step')} ${area.getAttribute('d')}`));

const PRINTS = `
  window.prints = [];
  window.print = () => window.prints.push(document.documentElement.dataset.print ?? '');
`;

let browser: Browser;
let app: AppPage;
beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true });
  browser = await launchBrowser();
  app = await openApp(browser, { init: PRINTS });
});
afterAll(async () => {
  await app?.close();
  await browser?.close();
});

describe('a blank reviewed by keyboard alone', () => {
  it('opens the example blank and says that it does not clean up where it lies', async () => {
    const { page } = app;
    await tabTo(page, 'Stock');
    await page.keyboard.press('Enter');
    await page.getByRole('main', { name: 'Stock' }).waitFor();
    expect(await answer(page)).toContain('No blank is reviewed yet');
    expect(await seriousFindings(page)).toEqual([]);
    await tabTo(page, 'Open the example blank');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: /Not yet/ }).waitFor({ timeout: ANSWER_MS });
    await page.getByRole('application', { name: /^Surface map of the stock/ }).waitFor();
    expect(
      await page
        .getByRole('region', { name: /^Short of stock/ })
        .getByRole('row')
        .count(),
    ).toBeGreaterThan(1);
  });

  it('shows the first area short of stock', async () => {
    const { page } = app;
    await tabTo(page, /^Show area 1/);
    await page.keyboard.press('Enter');
    await page.getByRole('application', { name: /Chosen: height/ }).waitFor();
  });

  it('follows a value that is tried with map and answer in under 100 ms', async () => {
    const { page } = app;
    await tabTo(page, /^Y: least spare stock/);
    await page.evaluate(() => {
      document.addEventListener(
        'keydown',
        () => {
          performance.mark('asked');
          requestAnimationFrame(() => setTimeout(() => performance.measure('followed', 'asked')));
        },
        { capture: true },
      );
    });
    const seen = new Set<string>();
    for (let i = 0; i < 9; i++) {
      await page.keyboard.press('ArrowLeft');
      await page.waitForFunction((n) => performance.getEntriesByName('followed').length > n, i);
      seen.add(`${await answer(page)} ${(await mapPaths(page)).join()}`);
      await page.waitForTimeout(400);
    }
    const took = await page.evaluate(() => performance.getEntriesByName('followed').map((entry) => entry.duration));
    expect(seen.size).toBe(9);
    expect(await answer(page)).toMatch(/Trial: /);
    await tabTo(page, 'Back');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 1, name: /Not yet/ }).waitFor();
    expect(took.sort((a, b) => a - b)[4]).toBeLessThan(100);
  });

  it('shares the stock evenly, and map and answer change', async () => {
    const { page } = app;
    await tabTo(page, 'Keep');
    await page.keyboard.press('Enter');
    const before = await mapPaths(page);
    await tabTo(page, 'Share stock evenly');
    await page.keyboard.press('Space');
    await page
      .getByRole('heading', { level: 2, name: 'Alignment: share stock evenly' })
      .waitFor({ timeout: ANSWER_MS });
    expect(await answer(page)).not.toContain('Not yet');
    expect(await mapPaths(page)).not.toEqual(before);
  });

  it('keeps both and compares them', async () => {
    const { page } = app;
    await tabTo(page, 'Keep');
    await page.keyboard.press('Enter');
    const table = page.getByRole('region', { name: 'Differences of A and B' });
    await table.waitFor();
    const least = await table
      .getByRole('row', { name: /^Least / })
      .getByRole('cell')
      .allTextContents();
    const numbers = least.slice(0, 3).map((text) => Number(text.replace('−', '-')));
    expect(numbers[1]).toBeGreaterThan(numbers[0]);
    expect(numbers[2]).toBeCloseTo(numbers[1] - numbers[0], 2);
    await page.getByText('They differ in: placement (best fit; share stock evenly)').waitFor();
  });

  it('adapts the edges to the blank, draws them, and steps to the next section', async () => {
    const { page } = app;
    await tabTo(page, 'Adapt the edges');
    await page.keyboard.press('Enter');
    const drawn = page.getByRole('img', { name: /^Leading edge of section/ });
    await drawn.waitFor({ timeout: ANSWER_MS });
    expect(await page.locator('foil-adapt .answer').textContent()).toContain('all checks pass');
    expect(await seriousFindings(page)).toEqual([]);
    const before = await drawn.getAttribute('aria-label');
    await tabTo(page, 'Next adapted section');
    await page.keyboard.press('Enter');
    await expect.poll(() => drawn.getAttribute('aria-label')).not.toBe(before);
  });

  it('shows the offset card with the values of the placement, copies it and prints it alone', async () => {
    const { page } = app;
    await tabTo(page, 'Work offset');
    await page.keyboard.press('Enter');
    const card = page.getByRole('dialog', { name: /^Work offset/ });
    await card.waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    await tabTo(page, 'Copy');
    await page.keyboard.press('Enter');
    await card.getByText('Copied.').waitFor();
    const copied = await page.evaluate(() => navigator.clipboard.readText());
    const shown = (await card.locator('.values dd').allTextContents()).map((text) => text.replace('−', '-').trim());
    for (const value of shown) expect(copied).toContain(value.split(/\s/)[0]);
    expect(copied).toMatch(/check point/i);
    await tabTo(page, 'Print card');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => (window as unknown as { prints: string[] }).prints)).toEqual(['card']);
    await page.keyboard.press('Escape');
    expect(await focused(page)).toBe('Work offset');
  });

  it('computes a trial on all points when it is confirmed, near what the trial said', async () => {
    const { page } = app;
    const least = async (): Promise<number> =>
      Number(/least ([+−]?[\d.]+) mm/i.exec(await answer(page))![1].replace('−', '-'));
    await tabTo(page, /^Y: least spare stock/);
    await page.keyboard.press('PageUp');
    await page.getByRole('heading', { level: 1, name: /Trial: / }).waitFor();
    const tried = await least();
    await tabTo(page, 'Confirm on all points');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { level: 2, name: 'Alignment: given values' }).waitFor({ timeout: ANSWER_MS });
    expect(await answer(page)).not.toContain('Trial');
    expect(Math.abs((await least()) - tried)).toBeLessThan(0.02);
  });

  it('says that the review is old once a file goes, and writes no offset then', async () => {
    const { page } = app;
    await page.getByRole('navigation').getByRole('button', { name: 'Part', exact: true }).click();
    await page.getByRole('button', { name: /^Remove plan/ }).click();
    await page.getByRole('navigation').getByRole('button', { name: 'Stock', exact: true }).click();
    await page.getByText('Out of date.').waitFor();
    expect(await page.getByRole('button', { name: 'Work offset' }).isDisabled()).toBe(true);
    expect(await page.getByRole('button', { name: 'Share stock evenly' }).isDisabled()).toBe(true);
  });

  it('logged no error and asked no other origin', () => {
    expect(app.faults).toEqual([]);
    expect(app.strangers).toEqual([]);
  });
});

/** Opens the Stock page with the example blank reviewed. */
async function reviewExample(page: Page): Promise<void> {
  await page.getByRole('navigation').getByRole('button', { name: 'Stock', exact: true }).click();
  await page.getByRole('button', { name: 'Open the example blank' }).click();
  await page.getByRole('application', { name: /^Surface map of the stock/ }).waitFor({ timeout: ANSWER_MS });
}

const overflow = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

describe.each(['light', 'dark'] as const)('the Stock page, %s', (colorScheme) => {
  it('is accessible and within the window, as a result and as a trial', async () => {
    const look = await openApp(browser, { colorScheme });
    const { page } = look;
    await reviewExample(page);
    await page.getByRole('button', { name: 'Keep', exact: true }).click();
    for (const size of SIZES) {
      await page.setViewportSize(size);
      await page.waitForTimeout(500);
      expect(await overflow(page)).toBe(0);
      const path = `${PICTURES}/stock-${size.width}x${size.height}-${colorScheme}.png`;
      expect((await page.screenshot({ path })).length).toBeGreaterThan(20_000);
    }
    expect(await seriousFindings(page)).toEqual([]);
    await page.getByRole('slider', { name: /^about Z/ }).press('Shift+ArrowRight');
    await page.getByText('Reckoned from the cells').waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    expect(look.faults).toEqual([]);
    await look.close();
  });
});

describe('narrow and roomy', () => {
  it('reflows at 320 px and gives 48 px targets', async () => {
    const look = await openApp(browser, { viewport: { width: 320, height: 800 } });
    const { page } = look;
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('combobox', { name: 'Density' }).selectOption('roomy');
    await page.keyboard.press('Escape');
    await reviewExample(page);
    await page.waitForTimeout(300);
    expect(await overflow(page)).toBe(0);
    for (const button of await page.getByRole('button').all()) {
      const box = await button.boundingBox();
      if (box) expect(box.height).toBeGreaterThanOrEqual(48);
    }
    await look.close();
  });
});
