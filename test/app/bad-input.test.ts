import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeMesh } from '../../samples/tessellate.ts';
import { writeStl } from '../../src/load/write-stl.ts';
import {
  type Bench,
  boxCloud,
  changed,
  makeBench,
  nominalTable,
  oneFlank,
  plyOf,
  smallScan,
  tableText,
} from '../cli/parts.ts';
import { buildOnce, run } from '../cli/run.ts';
import { type AppPage, dropOn, launchBrowser, openApp } from '../support/app-page.ts';

const NOMINAL = 'Nominal (finished shape)';
const MEASURED = 'Measured (scan or probed points)';
const INCH = 25.4;

const bytesOf = (content: string | Uint8Array): Uint8Array =>
  typeof content === 'string' ? new TextEncoder().encode(content) : content;
const table = (): string => tableText(nominalTable());
const textPly = (count: number, rows: string[]): string =>
  `ply\nformat ascii 1.0\ncomment units mm\nelement vertex ${count}\nproperty double x\nproperty double y\nproperty double z\nend_header\n${rows.join('\n')}\n`;
const stl = (): Uint8Array => writeStl(makeMesh({ rows: 11, columns: 64 }));
const absurdStl = (): Uint8Array => {
  const bytes = stl();
  new DataView(bytes.buffer).setUint32(80, 4_000_000_000, true);
  return bytes;
};
const onlyNan = (): Uint8Array => plyOf(changed(smallScan(), () => [Number.NaN, Number.NaN, Number.NaN]));
const figureEight = (): string => {
  const rows = Array.from({ length: 80 }, (_, i) => {
    const t = (2 * Math.PI * (i + 20.3)) / 80;
    return `A,10,${20 * Math.sin(t)},${4 * Math.sin(2 * t)}`;
  });
  return `# units: mm\nsection,z,x,y\n${rows.join('\n')}\n`;
};
const sameHeight = (): string => {
  const second = table().split('\n').slice(2, 162).join('\n');
  return `${table()}${second.replace(/^[^,]+/gm, 'again')}\n`;
};
const scaled = (factor: number) => (): Uint8Array =>
  plyOf(changed(smallScan(), (x, y, z) => [factor * x, factor * y, factor * z]));

/** Refused while reading, in the column they are dropped on. */
const UNREADABLE: [string, string, string, () => string | Uint8Array][] = [
  ['empty', MEASURED, 'empty.ply', () => ''],
  ['truncated text', MEASURED, 'cut-text.ply', () => textPly(5, ['0 0 0', '1 0 0', '1 1 0'])],
  ['truncated binary points', MEASURED, 'cut.ply', () => plyOf(smallScan()).subarray(0, 99_999)],
  ['truncated binary mesh', NOMINAL, 'cut.stl', () => stl().subarray(0, 5000)],
  ['wrong format', MEASURED, 'picture.ply', () => Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13)],
  ['NaN text', NOMINAL, 'nan.csv', () => table().replace(/,[-\d.]+\n/, ',nan\n')],
  ['all-NaN binary', MEASURED, 'nan.ply', onlyNan],
  ['absurd count, mesh', NOMINAL, 'absurd.stl', absurdStl],
  ['absurd count, points', MEASURED, 'absurd.ply', () => textPly(4_000_000_000, ['0 0 0'])],
  ['section of one point', NOMINAL, 'one.csv', () => `${table().split('\n').slice(0, 40).join('\n')}\nlast,130,1,2\n`],
  ['self-crossing section', NOMINAL, 'eight.csv', figureEight],
  ['two sections at one height', NOMINAL, 'level.csv', sameHeight],
];

/** Read, but refused when they are placed. */
const NOT_PLACED: [string, string, () => Uint8Array][] = [
  ['smaller by 25.4', 'small.ply', scaled(1 / INCH)],
  ['larger by 25.4', 'large.ply', scaled(INCH)],
  ['a part that is not this blade', 'box.ply', () => plyOf(boxCloud())],
  ['mirrored', 'mirrored.ply', () => plyOf(changed(smallScan(), (x, y, z) => [-x, y, z]))],
];

let bench: Bench;
let browser: Browser;
let app: AppPage;

beforeAll(async () => {
  bench = makeBench();
  bench.put('good.csv', table());
  bench.put('good.ply', plyOf(smallScan()));
  browser = await launchBrowser();
  await buildOnce();
  app = await openApp(browser);
}, 180_000);
afterAll(async () => {
  await app?.close();
  await browser?.close();
  bench?.remove();
});

/** What the command line says to a pair of files. */
async function refusal(nominal: string, measured: string): Promise<Record<string, string>> {
  const { code, stderr } = await run(['inspect', nominal, measured, '--json']);
  expect([3, 5], stderr).toContain(code);
  const found = /error: (.*)\n {2}code {4}(.*)\n {2}where {3}(.*)\n {2}remedy {2}(.*)/.exec(stderr);
  expect(found, stderr).not.toBeNull();
  const [, message, errorCode, where, remedy] = found!;
  return { message, errorCode, where, remedy };
}

/** What the app says: the one alert of the page, its details included. */
async function saidInApp(): Promise<string> {
  const alert = app.page.getByRole('alert');
  await alert.waitFor({ timeout: 60_000 });
  return ((await alert.textContent()) ?? '').replace(/\s+/g, ' ');
}

const remove = (name: string) => app.page.getByRole('button', { name: `Remove ${name}` }).click();

async function goodRun(): Promise<void> {
  const { page } = app;
  const measure = page.getByRole('button', { name: /^Measure( again)?$/ });
  await measure.click();
  await page.getByText('Out of date.').waitFor({ state: 'detached', timeout: 120_000 });
  await page.getByRole('application', { name: /^Surface map/ }).waitFor({ timeout: 120_000 });
  expect(await page.getByRole('alert').count()).toBe(0);
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toMatch(/\d+\.\d % /);
}

/** @param settled false where the message gives the misfit of a part that fits nowhere: no search settles that number */
function expectSame(said: string, cli: Record<string, string>, settled = true): void {
  const plain = (text: string) => text.replace(/\s+/g, ' ');
  const compared = (text: string) => (settled ? text : text.replace(/\d+(\.\d+)?/g, '#'));
  expect(compared(said)).toContain(compared(`Error: ${plain(cli.message)}`));
  expect(said).toContain(`Where: ${plain(cli.where)}`);
  expect(said).toContain(`What to do: ${plain(cli.remedy)}`);
  expect(said).toContain(cli.errorCode);
}

describe('a bad file gets the words of the command line, and the page goes on', () => {
  it.each(UNREADABLE)('%s', async (_, column, name, make) => {
    const bytes = bytesOf(make());
    const bad = bench.put(name, bytes);
    const cli = await refusal(
      column === NOMINAL ? bad : bench.path('good.csv'),
      column === NOMINAL ? bench.path('good.ply') : bad,
    );
    await dropOn(app.page, column, [{ name, bytes }]);
    expectSame(await saidInApp(), cli);
    expect(await app.page.getByRole('button', { name: 'Measure', exact: true }).isDisabled()).toBe(true);
    await remove(name);
    await app.page.getByRole('alert').waitFor({ state: 'detached' });
  });

  it('a good run works after all of them', async () => {
    await dropOn(app.page, NOMINAL, [{ name: 'good.csv', bytes: bytesOf(table()) }]);
    await dropOn(app.page, MEASURED, [{ name: 'good.ply', bytes: plyOf(smallScan()) }]);
    await goodRun();
    await openFiles();
    await remove('good.ply');
  });

  it.each(NOT_PLACED)('%s', async (_, name, make) => {
    const bytes = make();
    const cli = await refusal(bench.path('good.csv'), bench.put(name, bytes));
    await dropOn(app.page, MEASURED, [{ name, bytes }]);
    await app.page.getByRole('button', { name: 'Measure again' }).click({ timeout: 30_000 });
    const said = await saidInApp();
    await remove(name);
    expectSame(said, cli, name !== 'box.ply');
  });

  it('a good run works after all of these too, and nothing was logged', async () => {
    await dropOn(app.page, MEASURED, [{ name: 'good.ply', bytes: plyOf(smallScan()) }]);
    await goodRun();
    expect(app.faults).toEqual([]);
  });
});

describe('poor but usable data', () => {
  it('one flank only: warned of, the rest not measured', async () => {
    const { page } = app;
    await openFiles();
    await remove('good.ply');
    await dropOn(page, MEASURED, [{ name: 'flank.ply', bytes: plyOf(oneFlank()) }]);
    await page.getByRole('button', { name: 'Measure again' }).click({ timeout: 30_000 });
    await expect
      .poll(() => page.getByRole('heading', { level: 1 }).textContent(), { timeout: 120_000 })
      .toMatch(/[1-5]\d\.\d % /);
    await page.getByRole('note').first().waitFor();
  });

  it('points given twice and rows of NaN: dropped, counted, warned of', async () => {
    const { positions } = smallScan();
    const all = new Float64Array(positions.length + 303).fill(Number.NaN);
    all.set(positions);
    all.set(positions.subarray(0, 300), positions.length);
    const bytes = plyOf({ kind: 'cloud', positions: all });
    await openFiles();
    await remove('flank.ply');
    await dropOn(app.page, MEASURED, [{ name: 'twice.ply', bytes }]);
    const said = app.page.getByRole('note');
    await said.filter({ hasText: '100' }).first().waitFor({ timeout: 30_000 });
    const words = (await said.allTextContents()).join(' ');
    expect(words).toMatch(/Warning: 1 of 24101 points have coordinates that are not finite/);
    expect(words).toMatch(/Warning: 100 of 24100 points have exactly the coordinates of another/);
  });
});

/** Opens the line of files and checks where it is folded. */
async function openFiles(): Promise<void> {
  const head = app.page.getByText('Files and checks');
  if (!(await app.page.getByRole('region', { name: MEASURED }).isVisible())) await head.click();
}
