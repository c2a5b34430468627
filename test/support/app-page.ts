import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { chromiumArgs, chromiumPath } from './chromium.mjs';
import { serve } from './serve.mjs';

/** The built app; `npm run build` makes it. */
export const APP_FOLDER = process.env.CAMBERWRIGHT_APP ?? fileURLToPath(new URL('../../dist/app', import.meta.url));

export interface NamedBytes {
  name: string;
  bytes: Uint8Array;
}

/** A page on the built app, with everything that must never happen written down. */
export interface AppPage {
  page: Page;
  url: string;
  /** Console errors, page errors. */
  faults: string[];
  /** Requests to anywhere but the page's own origin. */
  strangers: string[];
  close(): Promise<void>;
}

export async function launchBrowser(extra: string[] = []): Promise<Browser> {
  if (!existsSync(`${APP_FOLDER}/index.html`)) throw new Error(`No built app in ${APP_FOLDER}: run "npm run build".`);
  return chromium.launch({ executablePath: chromiumPath(), args: [...chromiumArgs, ...extra] });
}

export async function openApp(
  browser: Browser,
  options: BrowserContextOptions & { isolated?: boolean; under?: string; init?: string; folder?: string } = {},
): Promise<AppPage> {
  const { isolated = true, under = '', init, folder = APP_FOLDER, ...contextOptions } = options;
  const server = await serve(folder, { isolated, under });
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    permissions: ['clipboard-read', 'clipboard-write'],
    ...contextOptions,
  });
  if (init) await context.addInitScript(init);
  const page = await context.newPage();
  const faults: string[] = [];
  const strangers: string[] = [];
  const origin = new URL(server.url).origin;
  page.on('console', (message) => {
    if (message.type() === 'error') faults.push(message.text());
  });
  page.on('pageerror', (error) => faults.push(String(error)));
  context.on('request', (request) => {
    const to = request.url();
    if (!to.startsWith('blob:') && !to.startsWith('data:') && new URL(to).origin !== origin) strangers.push(to);
  });
  await page.goto(server.url);
  await page.getByRole('heading', { level: 1 }).waitFor();
  return {
    page,
    url: server.url,
    faults,
    strangers,
    close: async () => {
      await context.close();
      await server.close();
    },
  };
}

/** Drops files on the column with this head, as a user would. */
export async function dropOn(page: Page, column: string, files: NamedBytes[]): Promise<void> {
  const target = page.getByRole('region', { name: column }).locator('.drop');
  const data = files.map(({ name, bytes }) => ({ name, base64: Buffer.from(bytes).toString('base64') }));
  await target.evaluate(async (element, list) => {
    const transfer = new DataTransfer();
    for (const { name, base64 } of list) {
      const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
      transfer.items.add(new File([bytes], name));
    }
    element.dispatchEvent(
      new DragEvent('drop', { dataTransfer: transfer, bubbles: true, composed: true, cancelable: true }),
    );
  }, data);
}
