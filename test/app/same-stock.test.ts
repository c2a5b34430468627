import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { sampleSet } from '../../samples/generate.ts';
import { type Bench, makeBench } from '../cli/parts.ts';
import { buildOnce, run } from '../cli/run.ts';
import { dropOn, launchBrowser, openApp } from '../support/app-page.ts';
import { goTo, resultsDownload } from '../support/example-run.ts';
import { differences, withoutTiming } from '../support/same-results.ts';

const FILES = ['nominal-sections.csv', 'blank-shift.ply', 'plan.json'];
const COLUMNS = ['Nominal (finished shape)', 'Measured (scan or probed points)', 'Plan (sections and limits)'];
const set = sampleSet({ only: FILES, blankPoints: 40_000 });
const files = FILES.map((name) => set.find((file) => file.name === name)!);

let bench: Bench;
let browser: Browser;
beforeAll(async () => {
  bench = makeBench();
  browser = await launchBrowser();
  await buildOnce();
}, 300_000);
afterAll(async () => {
  await browser?.close();
  bench?.remove();
});

it('a blank has the same stock, placements and values for the control on the command line and in the app', async () => {
  const [nominal, blank, plan] = files.map((file) => bench.put(file.name, file.bytes));
  const { code, stdout, stderr } = await run(['stock', nominal, blank, '--plan', plan, '--json']);
  expect([0, 1], stderr).toContain(code);
  const app = await openApp(browser);
  const { page } = app;
  for (const [k, column] of COLUMNS.entries()) await dropOn(page, column, [files[k]]);
  await page.getByRole('button', { name: 'Measure', exact: true }).waitFor();
  await goTo(page, 'Stock');
  await page.getByRole('button', { name: 'Review the blank' }).click({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Review again' }).waitFor({ timeout: 150_000 });
  const [cli, own] = [stdout, await resultsDownload(page)].map((text) => withoutTiming(JSON.parse(text)));
  expect(differences(cli, own, 1e-9)).toEqual([]);
  expect(app.faults).toEqual([]);
  await app.close();
}, 300_000);
