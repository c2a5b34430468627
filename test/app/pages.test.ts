import { mkdirSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { APP_FOLDER, type AppPage, launchBrowser, openApp } from '../support/app-page.ts';
import { seriousFindings } from '../support/axe.ts';
import { goTo, measureExample } from '../support/example-run.ts';

const PICTURES = `${APP_FOLDER}/../app-pictures`;
const SIZES = [
  { width: 1440, height: 900 },
  { width: 820, height: 1180 },
];

/** Pixels the page is wider than its window. */
const overflow = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

let browser: Browser;
beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true });
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

describe.each(['light', 'dark'] as const)('pages, %s', (colorScheme) => {
  let app: AppPage;
  beforeAll(async () => {
    app = await openApp(browser, { colorScheme });
  });
  afterAll(() => app?.close());

  it('has no serious accessibility issue while empty', async () => {
    expect(await seriousFindings(app.page)).toEqual([]);
    for (const name of ['Keys', 'Settings']) {
      await app.page.getByRole('button', { name }).click();
      expect(await seriousFindings(app.page)).toEqual([]);
      await app.page.keyboard.press('Escape');
    }
    await measureExample(app.page);
  });

  it.each(['Part', 'Sections', 'Report'] as const)('%s page: accessible, within the window, pictured', async (name) => {
    const { page } = app;
    for (const size of SIZES) {
      await page.setViewportSize(size);
      await goTo(page, name);
      if (name === 'Sections') await page.getByRole('button', { name: 'Next worst' }).click();
      await page.waitForTimeout(500);
      expect(await overflow(page)).toBe(0);
      const picture = await page.screenshot({
        path: `${PICTURES}/${name.toLowerCase()}-${size.width}x${size.height}-${colorScheme}.png`,
      });
      expect(picture.length).toBeGreaterThan(20_000);
    }
    expect(await seriousFindings(page)).toEqual([]);
  });

  it('logged no error and asked no other origin', () => {
    expect(app.faults).toEqual([]);
    expect(app.strangers).toEqual([]);
  });
});

describe('narrow and roomy', () => {
  it('reflows at 320 px and gives 48 px targets', async () => {
    const app = await openApp(browser, { viewport: { width: 320, height: 800 } });
    const { page } = app;
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('combobox', { name: 'Density' }).selectOption('roomy');
    await page.keyboard.press('Escape');
    expect(await overflow(page)).toBe(0);
    for (const button of await page.getByRole('button').all()) {
      const box = await button.boundingBox();
      if (box) expect(box.height).toBeGreaterThanOrEqual(48);
    }
    await measureExample(page);
    for (const name of ['Part', 'Sections', 'Report'] as const) {
      await goTo(page, name);
      await page.waitForTimeout(300);
      expect(await overflow(page)).toBe(0);
    }
    await app.close();
  });
});
