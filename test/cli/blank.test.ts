import { existsSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { sampleSet } from '../../samples/generate.ts';
import { poseFromMatrix } from '../../src/math/rigid.ts';
import type { OffsetFile } from '../../src/model/offset-results.ts';
import type { Results } from '../../src/model/results.ts';
import { applyOffset } from '../../src/place/work-offset.ts';
import { type Bench, makeBench } from './parts.ts';
import { buildOnce, run } from './run.ts';

const NAMES = [
  'nominal-sections.csv',
  'blank-shift.ply',
  'blank-lost.ply',
  'blank-edges.ply',
  'plan.json',
  'expected.json',
];
let bench: Bench;
const file: Record<string, string> = {};
let shared: { least: number; heldBy: { height: number; side: string }[] };
let lost: { least: number; spare: number };

beforeAll(async () => {
  bench = makeBench();
  await buildOnce();
  for (const { name, bytes } of sampleSet({ only: NAMES, blankPoints: 120_000 })) file[name] = bench.put(name, bytes);
  const expected = JSON.parse(readFileSync(file['expected.json'], 'utf8'));
  shared = expected.blanks['blank-shift.ply'].shared;
  lost = expected.blanks['blank-lost.ply'].shared;
}, 120_000);
afterAll(() => bench.remove());

const nominal = () => [file['nominal-sections.csv'], '--plan', file['plan.json']] as const;

/** Runs a command on one of the blanks; results, first line and exit code. */
async function job(command: string, blank: string, ...more: string[]) {
  const [shape, ...plan] = nominal();
  const out = bench.path(`${command}-${blank}-${more.join('')}`);
  const { code, stdout, stderr } = await run([command, shape, file[blank], ...plan, '--out', out, ...more]);
  const path = `${out}/results.json`;
  const results = existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as Results) : null;
  return { code, stdout, stderr, out, results, answer: stdout.split('\n')[0] };
}

describe('stock', () => {
  test('says not yet, and offers the placement that is known to be best', async () => {
    const { code, answer, results, out } = await job('stock', 'blank-shift.ply');
    expect(code).toBe(1);
    expect(answer).toMatch(
      /^Not yet: \d areas? short of stock\. Least 0\.\d{3} mm at height .* A better placement exists/,
    );
    expect(answer).toBe(results!.answers.stock!.text);
    const { better } = results!.stock!;
    const held = better!.heldBy.filter(({ weight }) => weight > 0.05);
    for (const { place } of held)
      expect(shared.heldBy.some(({ height, side }) => side === place.side && Math.abs(height - place.height) < 2)).toBe(
        true,
      );
    expect(held).toHaveLength(shared.heldBy.length);
    const offset = JSON.parse(readFileSync(`${out}/offset.json`, 'utf8')) as OffsetFile;
    const read = applyOffset(offset);
    const pose = poseFromMatrix(results!.stock!.placement.matrix);
    read.rotation.forEach((value, k) => {
      expect(value).toBeCloseTo(pose.rotation[k], 9);
    });
    expect(readFileSync(`${out}/offset-card.txt`, 'utf8')).toMatch(/^WORK OFFSET/);
    expect(readFileSync(`${out}/short-areas.csv`, 'utf8').trim().split('\n')).toHaveLength(
      1 + results!.stock!.areas.length,
    );
  }, 120_000);

  test('shares the stock within 5 µm of the known optimum and passes', async () => {
    const { code, answer, results } = await job('stock', 'blank-shift.ply', '--fit', 'share-stock');
    expect(code).toBe(0);
    expect(answer).toMatch(/^Enough stock everywhere: least 0\.(29|30)\d mm .* to spare\./);
    expect(Math.abs(results!.stock!.least.value! - shared.least)).toBeLessThan(0.005);
  }, 120_000);

  test('places a blank by its datum targets', async () => {
    const { results } = await job('stock', 'blank-shift.ply', '--fit', 'datum');
    expect(results!.alignment!.method).toBe('datum');
    expect(results!.stock!.datum!.targets).toHaveLength(6);
    expect(results!.stock!.datum!.amplification.factor).toBeGreaterThan(1);
  }, 120_000);

  test('refuses a blank that no placement saves, with what holds it', async () => {
    const { code, answer, results } = await job('stock', 'blank-lost.ply', '--fit', 'share-stock');
    expect(code).toBe(1);
    expect(answer).toMatch(/^Cannot clean up with Z held: short by 0\.0\d\d mm at height .*held by/);
    expect(Math.abs(results!.stock!.least.value! - lost.least)).toBeLessThan(0.005);
    expect(results!.stock!.placement.spare.value!).toBeLessThan(lost.spare);
    expect(results!.stock!.placement.heldBy.length).toBeGreaterThan(3);
  }, 120_000);

  test.each([
    [['--fit', 'nearest'], 2, /--fit wants best-fit/],
    [['--least', '-1'], 2, /--least wants a length/],
    [['--least', '0.6', '--most', '0.5'], 2, /--most 0.5 mm is not above --least 0.6 mm/],
  ])('refuses %j', async (more, exit, message) => {
    const { code, stderr } = await job('stock', 'blank-shift.ply', ...more);
    expect(code).toBe(exit);
    expect(stderr).toMatch(message);
  });
});

describe('adapt', () => {
  test('builds edges between flanks that stay as forged; its STEP, IGES and table are the same blade', async () => {
    const { code, answer, results, out } = await job('adapt', 'blank-edges.ply');
    expect(code, answer).toBe(0);
    expect(answer).toMatch(
      /^Both flanks stay as forged; leading edge and trailing edge adapted over 21 sections; all checks pass/,
    );
    expect(results!.adapt!.checks.every(({ verdict }) => verdict === 'pass')).toBe(true);
    const chords: number[][] = [];
    for (const name of ['adapted-sections.csv', 'adapted.step', 'adapted.igs']) {
      const { stdout } = await run(['sections', `${out}/${name}`, '--json', '--quiet']);
      const { sections } = JSON.parse(stdout) as Results;
      chords.push(sections.map(({ measured }) => measured!.chordFar.value!));
    }
    expect(chords[0]).toHaveLength(21);
    for (const other of chords.slice(1))
      expect(Math.max(...other.map((value, k) => Math.abs(value - chords[0][k])))).toBeLessThan(1e-3);
  }, 240_000);

  test('moves the whole blade within its profile where that makes a blank clean up', async () => {
    const { code, answer, results, out } = await job('adapt', 'blank-shift.ply', '--method', 'whole');
    expect(code, answer).toBe(0);
    expect(answer).toMatch(
      /^The whole blade cleans up within its profile limits; all checks pass\. Departs from nominal by −0\.0/,
    );
    const { departs, method } = results!.adapt!;
    expect(method).toBe('offset-field');
    expect(departs!.least.value!).toBeGreaterThan(-0.1);
    expect(existsSync(`${out}/adapted.step`)).toBe(true);
  }, 120_000);

  test('refuses a blank whose flanks are to be cut without metal for it, and writes no surface', async () => {
    const { code, answer, out } = await job('adapt', 'blank-lost.ply');
    expect(code).toBe(1);
    expect(answer).toMatch(/^Cannot be adapted: /);
    expect(existsSync(`${out}/adapted.step`)).toBe(false);
  }, 120_000);
});
