import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { rampOf } from '../../src/report/colours.ts';
import { type AppPage, launchBrowser, openApp } from '../support/app-page.ts';
import { goTo, measureExample } from '../support/example-run.ts';

let browser: Browser;
let app: AppPage;
beforeAll(async () => {
  browser = await launchBrowser();
  app = await openApp(browser, { colorScheme: 'light' });
  await measureExample(app.page);
  await goTo(app.page, 'Sections');
});
afterAll(async () => {
  await app?.close();
  await browser?.close();
});

/** CIE lightness of an sRGB colour, 0 … 255 a channel. */
function lightness([r, g, b]: readonly number[]): number {
  const linear = [r, g, b].map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
  const y = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  return y > 0.008856 ? 116 * Math.cbrt(y) - 16 : 903.3 * y;
}

/** Colours of the 3D picture with how many pixels have them, most first. */
async function coloursIn(page: Page): Promise<{ rgb: number[]; count: number }[]> {
  const picture = (await page.locator('canvas').screenshot()).toString('base64');
  return page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const context = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    const counts = new Map<number, number>();
    for (let i = 0; i < data.length; i += 4) {
      const key = (data[i] << 16) | (data[i + 1] << 8) | data[i + 2];
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
    return [...counts]
      .sort((a, b) => b[1] - a[1])
      .map(([key, count]) => ({ rgb: [key >> 16, (key >> 8) & 255, key & 255], count }));
  }, picture);
}

describe('the 3D picture', () => {
  it('shades the form by at most 4 in lightness, and visibly', async () => {
    await app.page.waitForTimeout(500);
    const within = lightness([1, 3, 5].map((k) => Number.parseInt(rampOf(0).colour.slice(k, k + 2), 16)));
    const all = await coloursIn(app.page);
    const pale = all.filter(
      ({ rgb, count }) => count >= 20 && rgb[0] >= rgb[2] && rgb[0] - rgb[2] <= 8 && rgb[0] > 200,
    );
    expect(pale.length).toBeGreaterThan(5);
    const levels = pale.map(({ rgb }) => lightness(rgb) - within);
    expect(Math.max(...levels)).toBeLessThanOrEqual(4.4);
    expect(Math.min(...levels)).toBeGreaterThanOrEqual(-4.4);
    expect(Math.max(...levels) - Math.min(...levels)).toBeGreaterThan(2);
  });

  it('turns to the side of the chosen place, and back', async () => {
    const { page } = app;
    const map = page.getByRole('application', { name: /^Surface map/ });
    const box = (await map.locator('.focus').boundingBox())!;
    for (const share of [0.7, 0.3, 0.7]) {
      await page.mouse.click(box.x + share * box.width, box.y + 0.5 * box.height);
      await page.locator('.marker').waitFor();
      await expect.poll(() => page.locator('.marker.behind').count()).toBe(0);
    }
    expect(app.faults).toEqual([]);
  });
});
