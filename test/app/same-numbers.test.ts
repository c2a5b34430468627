import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sampleSet } from '../../samples/generate.ts';
import { type Bench, makeBench } from '../cli/parts.ts';
import { buildOnce, run } from '../cli/run.ts';
import { dropOn, launchBrowser, openApp } from '../support/app-page.ts';
import { resultsDownload } from '../support/example-run.ts';
import { differences, withoutTiming } from '../support/same-results.ts';

const FILES = ['nominal-sections.csv', 'finished-scan.ply', 'plan.json'] as const;
const COLUMNS = ['Nominal (finished shape)', 'Measured (scan or probed points)', 'Plan (sections and limits)'];
const set = sampleSet({ points: 60_000 });
const files = FILES.map((name) => set.find((f) => f.name === name)!);

let bench: Bench;
let browser: Browser;
let printed: string;
const inApp: { isolated: boolean; text: string; threads: boolean }[] = [];

/** Text of the results file the app gives for the files. */
async function measuredInApp(isolated: boolean): Promise<void> {
  const app = await openApp(browser, { isolated });
  const { page } = app;
  for (const [k, column] of COLUMNS.entries()) await dropOn(page, column, [files[k]]);
  const measure = page.getByRole('button', { name: 'Measure', exact: true });
  await measure.click({ timeout: 60_000 });
  await page.getByRole('button', { name: 'Measure again' }).waitFor({ timeout: 150_000 });
  const threads = await page.evaluate(() => crossOriginIsolated);
  inApp.push({ isolated, text: await resultsDownload(page), threads });
  expect(app.faults).toEqual([]);
  await app.close();
}

beforeAll(async () => {
  bench = makeBench();
  browser = await launchBrowser();
  await buildOnce();
  const [nominal, scan, plan] = files.map((file) => bench.put(file.name, file.bytes));
  const { code, stdout, stderr } = await run(['inspect', nominal, scan, '--plan', plan, '--json']);
  expect([0, 1], stderr).toContain(code);
  printed = stdout;
  for (const isolated of [true, false]) await measuredInApp(isolated);
}, 600_000);
afterAll(async () => {
  await browser?.close();
  bench?.remove();
});

describe('the same files give the same results', () => {
  it('on the command line and in the app: numbers to 1e-9, all else equal', () => {
    const [cli, app] = [printed, inApp[0].text].map((text) => withoutTiming(JSON.parse(text)));
    // The drawn curvature is a second derivative over hundredths of a millimetre: it has a digit less.
    const drawn = (difference: string) => /^sections\.\d+\.plot\.curvature\./.test(difference);
    expect(differences(cli, app, 1e-9).filter((difference) => !drawn(difference))).toEqual([]);
    expect(differences(cli, app, 1e-8)).toEqual([]);
  });

  it('in the app with and without cross-origin isolation: every byte', () => {
    expect(inApp.map(({ threads }) => threads)).toEqual([true, false]);
    const [isolated, plain] = inApp.map(({ text }) => JSON.stringify(withoutTiming(JSON.parse(text))));
    expect(plain).toBe(isolated);
  });

  it('and the comparison sees a change of one number, word or missing entry', () => {
    const whole = JSON.parse(printed);
    const changed = structuredClone(whole);
    changed.deviation.mean += 2e-9;
    changed.characteristics[3].verdict = 'other';
    delete changed.sections[2].twistFitDeg;
    const found = differences(whole, changed, 1e-9);
    expect(found.map((line) => line.split(':')[0])).toEqual([
      'deviation.mean',
      'sections.2.twistFitDeg',
      'characteristics.3.verdict',
    ]);
  });
});

it('the sample has what the comparison is about', () => {
  const results = JSON.parse(readFileSync(bench.path('results/results.json'), 'utf8'));
  const verdicts = new Set(results.characteristics.map((row: { verdict: string }) => row.verdict));
  expect(verdicts.size).toBeGreaterThan(1);
  expect(results.sections.length).toBe(22);
});
