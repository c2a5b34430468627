// Finds a Chromium for the browser tests: CHROMIUM_PATH, the usual system places, then Playwright's own cache.
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

export const chromiumArgs = [
  '--no-sandbox',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
];

const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/Applications/Chromium.app/Contents/MacOS/Chromium'];

/** Path of the first Chromium found, or undefined. */
export function findChromium() {
  const asked = process.env.CHROMIUM_PATH;
  if (asked) return existsSync(asked) ? asked : undefined;
  const own = chromium.executablePath();
  return [...PLACES, own].find((path) => path && existsSync(path));
}

/** Path of a Chromium; the system place when none is found, so that the launch error names it. */
export function chromiumPath() {
  return findChromium() ?? PLACES[0];
}
