import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { sampleSet } from '../../samples/generate.ts';
import { samplePlan } from '../../samples/plan.ts';
import { SAMPLE_POSE } from '../../samples/scenario.ts';
import { invertPose, movePoint } from '../../src/math/rigid.ts';
import type { Results } from '../../src/model/results.ts';
import { resultsFromJson } from '../../src/report/results-json.ts';
import { type Bench, makeBench } from './parts.ts';
import { buildOnce, type Outcome, run, start } from './run.ts';

let bench: Bench;
let sample: string[];
let whole: Outcome;
let results: Results;
const resultsPath = (name: string) => bench.path(`results/${name}`);

beforeAll(async () => {
  bench = makeBench();
  for (const { name, bytes } of sampleSet({ points: 24_000, pointsPerSection: 140 })) bench.put(name, bytes);
  const plan = samplePlan();
  plan.sections = { ...plan.sections, heights: [12, 42, 60, 102] };
  bench.put('plan.json', JSON.stringify(plan));
  sample = [bench.path('nominal-sections.csv'), bench.path('finished-scan.ply')];
  await buildOnce();
  whole = await run(['inspect', ...sample, '--plan', bench.path('plan.json')]);
  results = resultsFromJson(readFileSync(resultsPath('results.json'), 'utf8'), 'results.json');
}, 180_000);
afterAll(() => bench.remove());

/** A results document without what differs from run to run. */
function withoutTiming(text: string): Omit<Results, 'timing'> {
  const { timing: _, ...rest } = resultsFromJson(text, 'results.json');
  return rest;
}

describe('inspect on the sample blade', () => {
  test('finds what was planted and exits 1, with the answer on the first line', () => {
    expect(whole.code).toBe(1);
    const [first, second] = whole.stdout.split('\n');
    expect(first).toBe(results.answers.part?.text);
    expect(second).toBe(results.answers.sections?.text);
    expect(whole.stdout).toContain('Verdict: FAIL');
    const rows = results.characteristics ?? [];
    expect(rows.filter(({ verdict }) => verdict === 'fail').map(({ name }) => name)).toContain('Profile, Suction side');
    const sharp = rows.find(({ id }) => id === 'leadingEdge.radiusFit@S03');
    expect(sharp?.verdict).not.toBe('pass');
    expect(sharp?.deviation).toBeLessThan(-0.02);
  });

  test('leaves the three files beside the scan and nothing half-written', () => {
    expect(readdirSync(bench.path('results')).sort()).toEqual(['characteristics.csv', 'report.html', 'results.json']);
    expect(whole.stdout).toContain(resultsPath('report.html'));
    expect(readFileSync(resultsPath('report.html'), 'utf8')).toContain('TRW-2107');
    const rows = readFileSync(resultsPath('characteristics.csv'), 'utf8').trimEnd().split(/\r?\n/);
    expect(rows).toHaveLength((results.characteristics?.length ?? 0) + 1);
  });

  test('places the scan where it was planted', () => {
    const { matrix } = results.alignment!;
    const inverse = invertPose(SAMPLE_POSE);
    for (const point of [
      [0, 0, 0],
      [20, 5, 60],
      [-15, 0, 120],
    ]) {
      const measured = movePoint(inverse, point);
      const back = [0, 4, 8].map(
        (row) => matrix[row + 3] + measured.reduce((sum, value, i) => sum + matrix[row + i] * value, 0),
      );
      expect(Math.hypot(...back.map((value, i) => value - point[i]))).toBeLessThan(0.25);
    }
  });

  test('a pipe gets no escape codes and no progress', () => {
    for (const sign of ['\u001b', '\r']) expect(whole.stdout + whole.stderr).not.toContain(sign);
  });
});

describe('options', () => {
  test('--json prints exactly the document of the file; threads change no digit', async () => {
    const args = [
      'inspect',
      ...sample,
      '--plan',
      bench.path('plan.json'),
      '--json',
      '--threads',
      '1',
      '--out',
      bench.path('one'),
    ];
    const { code, stdout, stderr } = await run(args);
    expect(code).toBe(1);
    expect(stdout).toBe(readFileSync(bench.path('one/results.json'), 'utf8'));
    expect(withoutTiming(stdout)).toEqual(withoutTiming(readFileSync(resultsPath('results.json'), 'utf8')));
    expect(stderr).not.toContain('"schema"');
  });

  test('--pose from results gives the same numbers; --no-map, --map, --heights, --progress=json', async () => {
    const out = bench.path('given');
    const args = [
      'inspect',
      ...sample,
      '--pose',
      resultsPath('results.json'),
      '--heights',
      '60,30',
      '--no-map',
      '--progress=json',
    ];
    const { code, stderr } = await run([...args, '--out', out]);
    expect(code).toBe(0);
    const given = resultsFromJson(readFileSync(`${out}/results.json`, 'utf8'), 'results.json');
    expect(given.alignment?.method).toBe('given');
    expect(given.map).toBeUndefined();
    expect(given.sections.map(({ height }) => height)).toEqual([30, 60]);
    const same = results.sections.find(({ height }) => height === 60);
    const chord = given.sections[1].measured?.chordFar.value ?? Number.NaN;
    expect(Math.abs(chord - (same?.measured?.chordFar.value ?? Number.NaN))).toBeLessThan(1e-4);
    const reports = stderr.split('\n').filter((line) => line.startsWith('{'));
    expect(reports.map((line) => JSON.parse(line).step)).toContain('read');
  }, 120_000);

  test('--map writes the map as table and surface', async () => {
    const out = bench.path('maps');
    const args = ['inspect', ...sample, '--pose', resultsPath('results.json'), '--heights', '60', '--map', 'csv,ply'];
    const { code, stderr } = await run([...args, '--out', out, '--quiet']);
    expect([code, stderr]).toEqual([0, '']);
    expect(readFileSync(`${out}/map.csv`, 'utf8')).toMatch(/^.?Height mm,Along mm,Side,Deviation mm/);
    const info = await run(['info', `${out}/map.ply`, '--json']);
    const [found] = JSON.parse(info.stdout).files;
    expect(found).toMatchObject({ kind: 'mesh', unit: 'mm' });
    const { box } = results.inputs.nominal!;
    for (const axis of [0, 1, 2]) expect(Math.abs(found.box.max[axis] - box.max[axis])).toBeLessThan(0.05);
  });

  test('files of other origin in the results folder are left alone', async () => {
    mkdirSync(bench.path('mine'));
    bench.put('mine/results.json', '{"mine": true}');
    const { code, stderr } = await run(['inspect', ...sample, '--out', bench.path('mine')]);
    expect(code).toBe(2);
    expect(stderr).toContain('usage/exists');
    expect(readFileSync(bench.path('mine/results.json'), 'utf8')).toBe('{"mine": true}');
  });
});

test('Ctrl-C exits 130 and leaves no file', async () => {
  const out = bench.path('stopped');
  const job = start(['inspect', ...sample, '--out', out, '--progress=json']);
  while (!job.seen.stderr.includes('"read"')) await new Promise((resolve) => setTimeout(resolve, 5));
  job.child.kill('SIGINT');
  const { code, stdout, stderr } = await job.ended;
  expect(code).toBe(130);
  expect(stdout).toBe('');
  expect(stderr).toContain('cancelled');
  expect(existsSync(out)).toBe(false);
});

describe('sections', () => {
  test('prints a table of a section table', async () => {
    const { code, stdout } = await run(['sections', sample[0]]);
    expect(code).toBe(0);
    const lines = stdout.trimEnd().split('\n');
    expect(lines[1]).toMatch(/section +height +chord +stagger/);
    expect(lines).toHaveLength(4 + 21);
  });

  test('--json is a results document with the values under measured', async () => {
    const { stdout } = await run(['sections', sample[0], '--json']);
    const found = resultsFromJson(stdout, 'stdout');
    const chordAt60 = ({ sections }: Results, kind: 'nominal' | 'measured') =>
      sections.find(({ height }) => height === 60)?.[kind]?.chordFar.value ?? Number.NaN;
    expect(Math.abs(chordAt60(found, 'measured') - chordAt60(results, 'nominal'))).toBeLessThan(1e-6);
  });
});

test('sample writes the set and does not write over changed files', async () => {
  const folder = bench.path('demo');
  const first = await run(['sample', folder]);
  expect(first.code).toBe(0);
  const names = sampleSet({ points: 10 }).map(({ name }) => name);
  expect(first.stdout.split('\n')[0]).toBe(`${names.length} files written to ${folder}.`);
  expect(readdirSync(folder).sort()).toEqual(names.sort());
  bench.put('demo/plan.json', 'changed');
  const second = await run(['sample', folder]);
  expect(second.code).toBe(2);
  expect(second.stderr).toContain('usage/exists');
});

test('open serves the app with the files until it is stopped', async () => {
  const job = start(['open', ...sample, '--plan', bench.path('plan.json'), '--json']);
  while (!job.seen.stdout.includes('}') && job.child.exitCode === null)
    await new Promise((resolve) => setTimeout(resolve, 10));
  const { url } = JSON.parse(job.seen.stdout);
  const session = await (await fetch(new URL('session.json', url))).json();
  expect(session.measured).toEqual(['session/1/finished-scan.ply']);
  const plan = await (await fetch(new URL(session.plan, url))).text();
  expect(plan).toBe(readFileSync(bench.path('plan.json'), 'utf8'));
  expect(await (await fetch(url)).text()).toContain('camberwright-session');
  job.child.kill('SIGINT');
  expect((await job.ended).code).toBe(0);
});
