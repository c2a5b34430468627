import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sampleSet } from '../../samples/generate.ts';
import { APP_FOLDER, dropOn, launchBrowser, openApp } from '../support/app-page.ts';
import { goTo, measureExample } from '../support/example-run.ts';

const text = (value: string) => new TextEncoder().encode(value);

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(() => browser?.close());

describe('bad files', () => {
  const BAD: [string, Uint8Array][] = [
    ['empty.ply', new Uint8Array(0)],
    ['picture.stl', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13)],
    [
      'cut.ply',
      text(
        'ply\nformat ascii 1.0\nelement vertex 5\nproperty float x\nproperty float y\nproperty float z\nend_header\n0 0 0\n1 1 1\n',
      ),
    ],
    [
      'nan.ply',
      text(
        'ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nproperty float y\nproperty float z\nend_header\nnan nan nan\nnan nan nan\n',
      ),
    ],
  ];
  it.each(BAD)('%s gets a message with place and remedy, and the page goes on', async (name, bytes) => {
    const app = await openApp(browser);
    const { page } = app;
    await dropOn(page, 'Measured (scan or probed points)', [{ name, bytes }]);
    const alert = page.getByRole('alert');
    await alert.waitFor({ timeout: 10_000 });
    const said = await alert.textContent();
    expect(said).toContain(name);
    expect(said).toMatch(/What to do: \S/);
    await page.getByRole('button', { name: `Remove ${name}` }).click();
    await page.getByRole('button', { name: 'Choose the measured part' }).waitFor();
    expect(app.faults).toEqual([]);
    await app.close();
  });
  it('a plan with an unknown key names it', async () => {
    const app = await openApp(browser);
    const bytes = text('{"schema":"camberwright/plan","schemaVersion":1,"zonez":[]}');
    await dropOn(app.page, 'Plan (sections and limits)', [{ name: 'plan.json', bytes }]);
    const alert = app.page.getByRole('alert');
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(/zone/);
    await app.close();
  });
});

describe('without 3D', () => {
  it('shows everything but 3D, and says so', async () => {
    const init = `const get = HTMLCanvasElement.prototype.getContext;
      HTMLCanvasElement.prototype.getContext = function (kind, ...rest) { return /webgl/.test(kind) ? null : get.call(this, kind, ...rest); };`;
    const app = await openApp(browser, { init });
    const { page } = app;
    await measureExample(page);
    await goTo(page, 'Sections');
    await page.getByText('no 3D drawing').waitFor();
    await page.getByRole('grid').waitFor();
    await page
      .getByRole('application', { name: /over height/ })
      .nth(3)
      .waitFor();
    await goTo(page, 'Report');
    await page.frameLocator('iframe').getByRole('heading', { level: 1 }).waitFor();
    await app.close();
  });

  it('draws again after the context was lost, with results and selection unchanged', async () => {
    const app = await openApp(browser);
    const { page } = app;
    await measureExample(page);
    await goTo(page, 'Sections');
    await page.getByRole('button', { name: 'Next worst' }).click();
    await page.locator('.marker').waitFor();
    const label = await page.getByRole('application', { name: /^Surface map/ }).getAttribute('aria-label');
    const canvas = page.locator('canvas');
    await canvas.evaluate((element: HTMLCanvasElement) => {
      const lose = element.getContext('webgl2')!.getExtension('WEBGL_lose_context')!;
      lose.loseContext();
      setTimeout(() => lose.restoreContext(), 300);
    });
    await page.getByText('took the 3D picture away').waitFor();
    await page.getByText('took the 3D picture away').waitFor({ state: 'detached', timeout: 3000 });
    expect(await page.getByRole('application', { name: /^Surface map/ }).getAttribute('aria-label')).toBe(label);
    expect(await coloured(page)).toBeGreaterThan(500);
    await app.close();
  });

  it('draws no frame while idle', async () => {
    const init = `let frames = 0; const ask = requestAnimationFrame.bind(window);
      window.requestAnimationFrame = (f) => { frames++; return ask(f); }; window.framesAsked = () => frames;`;
    const app = await openApp(browser, { init });
    await measureExample(app.page);
    await goTo(app.page, 'Sections');
    await app.page.waitForTimeout(1500);
    const asked = () => app.page.evaluate(() => (window as unknown as { framesAsked: () => number }).framesAsked());
    const before = await asked();
    await app.page.waitForTimeout(3000);
    expect((await asked()) - before).toBe(0);
    await app.close();
  });
});

/** Pixels of the 3D picture that differ from its corner. */
async function coloured(page: Page): Promise<number> {
  const picture = (await page.locator('canvas').screenshot()).toString('base64');
  return page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const context = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
    context.drawImage(image, 0, 0);
    const { data } = context.getImageData(0, 0, image.width, image.height);
    let count = 0;
    for (let i = 4; i < data.length; i += 4) if (Math.abs(data[i] - data[8]) > 6) count++;
    return count;
  }, picture);
}

describe('files served beside the page', () => {
  it('are opened and measured without a click', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'served-'));
    cpSync(APP_FOLDER, folder, { recursive: true });
    mkdirSync(join(folder, 'session'));
    const set = sampleSet();
    for (const name of ['nominal-sections.csv', 'finished-scan.ply', 'plan.json'])
      writeFileSync(join(folder, 'session', name), set.find((f) => f.name === name)!.bytes);
    const manifest = {
      nominal: 'session/nominal-sections.csv',
      measured: ['session/finished-scan.ply'],
      plan: 'session/plan.json',
    };
    writeFileSync(join(folder, 'session.json'), JSON.stringify(manifest));
    const index = readFileSync(join(folder, 'index.html'), 'utf8');
    const meta = '<meta name="camberwright-session" content="session.json" />';
    writeFileSync(join(folder, 'index.html'), index.replace('</head>', `${meta}</head>`));
    const app = await openApp(browser, { folder });
    await app.page.getByRole('button', { name: 'Measure again' }).waitFor({ timeout: 120_000 });
    await app.page.getByRole('banner').getByText('TRW-2107').waitFor();
    expect(app.faults).toEqual([]);
    expect(app.strangers).toEqual([]);
    await app.close();
    rmSync(folder, { recursive: true });
  });
});

describe('hosting', () => {
  it('works under a sub-path and without isolation headers', async () => {
    const app = await openApp(browser, { isolated: false, under: '/tools/blade' });
    expect(await app.page.evaluate(() => crossOriginIsolated)).toBe(false);
    await measureExample(app.page);
    expect(app.faults).toEqual([]);
    expect(app.strangers).toEqual([]);
    await app.close();
  });

  it('needs at most 60 kB of compressed JavaScript before the first paint', () => {
    const seen = new Set<string>();
    const entry = /src="\.\/(assets\/[^"]+\.js)"/.exec(readFileSync(`${APP_FOLDER}/index.html`, 'utf8'))![1];
    const queue = [entry];
    let bytes = 0;
    for (let file = queue.pop(); file; file = queue.pop()) {
      if (seen.has(file)) continue;
      seen.add(file);
      const code = readFileSync(`${APP_FOLDER}/${file}`);
      bytes += gzipSync(code).length;
      const imports = code.toString('utf8').matchAll(/(?:^|[;}])import[^("']*["']\.\/([^"']+\.js)["']/g);
      for (const [, name] of imports) queue.push(`assets/${name}`);
    }
    expect(bytes).toBeLessThanOrEqual(60_000);
  });
});

/** Switches the letter keys in the settings. */
async function letterKeys(page: Page, on: boolean): Promise<void> {
  await page.getByRole('button', { name: 'Settings' }).click();
  await page.getByRole('checkbox', { name: 'Letter keys' }).setChecked(on);
  await page.keyboard.press('Escape');
}

describe('keyboard alone', () => {
  it('opens the example, finds the worst place and reaches the report', async () => {
    const app = await openApp(browser);
    const { page } = app;
    const focused = () =>
      page.evaluate(() => {
        let at: Element | null = document.activeElement;
        while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
        return at?.getAttribute('aria-label') ?? at?.textContent?.trim() ?? '';
      });
    const tabTo = async (wanted: RegExp) => {
      for (let i = 0; i < 120; i++) {
        if (wanted.test(await focused())) return;
        await page.keyboard.press('Tab');
      }
      throw new Error(`Tab never reached ${wanted}`);
    };
    await tabTo(/^Open the example/);
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Measure again' }).waitFor({ timeout: 120_000 });
    for (let i = 0; i < 12 && !/^Part$/.test(await focused()); i++) await page.keyboard.press('F6');
    await tabTo(/^Sections$/);
    await page.keyboard.press('Enter');
    await expect.poll(focused).toBe('Sections');
    await page.getByRole('main', { name: 'Sections' }).waitFor();
    await tabTo(/^Surface map/);
    await page.keyboard.press('n');
    await expect.poll(focused).toMatch(/Chosen: height/);
    await page.keyboard.press('Home');
    await page.getByText('leading edge, 0.00 mm').waitFor();
    await tabTo(/^\d+$/);
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.locator('tr[aria-selected="true"]').waitFor();
    for (let i = 0; i < 12 && !/^Part$/.test(await focused()); i++) await page.keyboard.press('F6');
    await tabTo(/^Report$/);
    await page.keyboard.press('Enter');
    await page.frameLocator('iframe').getByRole('heading', { level: 1 }).waitFor();
    await app.close();
  });

  it('lets letters act only inside a view, and not at all when switched off', async () => {
    const app = await openApp(browser);
    const { page } = app;
    await measureExample(page);
    const map = page.getByRole('application', { name: /^Surface map/ });
    await page.keyboard.press('n');
    expect(await map.getAttribute('aria-label')).toMatch(/No place chosen/);
    await letterKeys(page, false);
    await map.focus();
    await page.keyboard.press('n');
    await page.waitForTimeout(200);
    expect(await map.getAttribute('aria-label')).toMatch(/No place chosen/);
    await letterKeys(page, true);
    await map.focus();
    await page.keyboard.press('n');
    await expect.poll(() => map.getAttribute('aria-label')).toMatch(/Chosen: height/);
    await app.close();
  });
});
