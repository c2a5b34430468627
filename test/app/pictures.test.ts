import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type AppPage, launchBrowser, openApp } from '../support/app-page.ts';
import { goTo, measureExample } from '../support/example-run.ts';

const PLOTS: [RegExp, string][] = [
  [/^Save or copy: surface map$/, 'map'],
  [/^Save or copy: trends over height$/, 'trends'],
  [/^Save or copy: section S/, 'section-S11'],
  [/^Save or copy: deviation along the outline/, 'outline-S11'],
  [/^Save or copy: edges/, 'edges-S11'],
];
const STEM = 'TRW-2107-serial-0042';

let browser: Browser;
let app: AppPage;
beforeAll(async () => {
  browser = await launchBrowser();
  app = await openApp(browser);
  await measureExample(app.page);
  await goTo(app.page, 'Sections');
});
afterAll(async () => {
  await app?.close();
  await browser?.close();
});

async function choose(plot: RegExp, item: string): Promise<void> {
  await app.page.getByRole('button', { name: plot }).click();
  await app.page.getByRole('menuitem', { name: item }).click();
}

async function saved(plot: RegExp, item: string): Promise<{ name: string; bytes: Buffer }> {
  const download = app.page.waitForEvent('download');
  await choose(plot, item);
  const file = await download;
  return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) };
}

/** Colours that occur in a PNG, and its size. */
async function pictureOf(bytes: Buffer): Promise<{ width: number; height: number; colours: number }> {
  return app.page.evaluate(async (base64) => {
    const data = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
    const image = await createImageBitmap(new Blob([data], { type: 'image/png' }));
    const context = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
    context.drawImage(image, 0, 0);
    const pixels = new Uint32Array(context.getImageData(0, 0, image.width, image.height).data.buffer);
    return { width: image.width, height: image.height, colours: new Set(pixels).size };
  }, bytes.toString('base64'));
}

describe.each(PLOTS)('%s', (plot, view) => {
  it('is saved as a self-contained SVG named after part and view', async () => {
    const { name, bytes } = await saved(plot, 'Picture (SVG)');
    expect(name).toBe(`${STEM}-${view}.svg`);
    const text = bytes.toString('utf8');
    expect(text).toMatch(/^<svg xmlns/);
    expect(text).toContain('TRW-2107, serial 0042: ');
    expect(text).not.toMatch(/href=|url\((?!#)|var\(|NaN|undefined/);
  });

  it('is saved as a PNG of twice the size, not blank', async () => {
    const size = /width="([\d.]+)" height="([\d.]+)"/.exec(
      (await saved(plot, 'Picture (SVG)')).bytes.toString('utf8'),
    )!;
    const { name, bytes } = await saved(plot, 'Picture (PNG)');
    expect(name).toBe(`${STEM}-${view}.png`);
    const { width, height, colours } = await pictureOf(bytes);
    expect(Math.abs(width - 2 * Number(size[1]))).toBeLessThanOrEqual(2);
    expect(Math.abs(height - 2 * Number(size[2]))).toBeLessThanOrEqual(2);
    expect(colours).toBeGreaterThan(8);
  });

  it('gives its numbers as a file and on the clipboard, heads and units included', async () => {
    const { name, bytes } = await saved(plot, 'Numbers (CSV)');
    expect(name).toBe(`${STEM}-${view}.csv`);
    await choose(plot, 'Copy numbers');
    const read = () => app.page.evaluate(() => navigator.clipboard.readText());
    const [head, ...rows] = bytes.toString('utf8').trim().split('\r\n');
    await expect.poll(async () => (await read()).split('\n').length).toBe(rows.length + 1);
    const copied = (await read()).split('\n');
    expect(head).toMatch(/mm/);
    expect(rows.length).toBeGreaterThan(10);
    expect(copied[0].split('\t').length).toBe(copied[1].split('\t').length);
    expect(copied.join('')).not.toMatch(/−|NaN|undefined/);
  });
});

describe('the menu', () => {
  it('opens and works by keys alone, and gives the focus back', async () => {
    const { page } = app;
    const opener = page.getByRole('button', { name: /^Save or copy: surface map$/ });
    await opener.focus();
    await page.keyboard.press('Enter');
    await page.keyboard.press('End');
    const focused = () => page.locator('[role=menuitem]:focus').textContent();
    expect((await focused())?.trim()).toBe('Copy numbers');
    await page.keyboard.press('ArrowDown');
    expect((await focused())?.trim()).toBe('Picture (SVG)');
    await expect.poll(() => opener.getAttribute('aria-expanded')).toBe('true');
    await page.keyboard.press('Escape');
    await expect.poll(() => opener.getAttribute('aria-expanded')).toBe('false');
    expect(await opener.evaluate((e) => (e.getRootNode() as ShadowRoot).activeElement === e)).toBe(true);
    expect(app.faults).toEqual([]);
  });
});
