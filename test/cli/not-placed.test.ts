import { existsSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Cloud } from '../../src/model/shape.ts';
import { resultsFromJson } from '../../src/report/results-json.ts';
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
} from './parts.ts';
import { buildOnce, run } from './run.ts';

let bench: Bench;
let nominal: string;
const INCH = 25.4;

beforeAll(async () => {
  bench = makeBench();
  nominal = bench.put('nominal.csv', tableText(nominalTable()));
  await buildOnce();
}, 120_000);
afterAll(() => bench.remove());

const scaled = (factor: number) => () => changed(smallScan(), (x, y, z) => [factor * x, factor * y, factor * z]);
const mirrored = () => changed(smallScan(), (x, y, z) => [-x, y, z]);

describe('read, but not to be placed: exits 5 with code, cause and remedy, and leaves no results', () => {
  test.each<[string, () => Cloud, RegExp, RegExp]>([
    ['smaller by 25.4', scaled(1 / INCH), /place\//, /unit|inch/i],
    ['larger by 25.4', scaled(INCH), /place\//, /unit|inch/i],
    ['another part', boxCloud, /place\//, /part|blade/i],
    ['mirrored', mirrored, /place\/mirrored/, /--accept-pose|accept/],
  ])('%s', async (name, make, code, hint) => {
    const scan = bench.put(`${name}.ply`, plyOf(make()));
    const { code: exit, stdout, stderr } = await run(['inspect', nominal, scan, '--out', bench.path('out')]);
    expect(stderr).toMatch(code);
    expect(exit).toBe(5);
    expect(stderr).toMatch(hint);
    expect(stderr).toContain(`where   ${name}.ply`);
    expect(stderr).toMatch(/remedy {2}.{10,}/);
    expect(stdout).toBe('');
    expect(existsSync(bench.path('out'))).toBe(false);
  });

  test('a mirrored part is taken knowingly with --accept-pose', async () => {
    const scan = bench.put('mirrored.ply', plyOf(mirrored()));
    const args = ['inspect', nominal, scan, '--heights', '60', '--accept-pose', '--out', bench.path('taken')];
    const { code, stdout, stderr } = await run(args);
    expect(stderr).toContain('mirrored');
    expect(code).toBe(0);
    expect(stdout).toContain('MIRRORED');
  });
});

describe('poor but usable data exit 0 with warnings', () => {
  test('one flank only: the rest is not measured', async () => {
    const scan = bench.put('flank.ply', plyOf(oneFlank()));
    const { code, stdout, stderr } = await run([
      'inspect',
      nominal,
      scan,
      '--out',
      bench.path('flank'),
      '--heights',
      '45,60',
    ]);
    expect(stderr).toMatch(/warning/);
    expect(code).toBe(0);
    const results = resultsFromJson(readFileSync(bench.path('flank/results.json'), 'utf8'), 'results.json');
    expect(results.deviation?.coverage).toBeLessThan(0.6);
    const middle = results.sections[1].measured;
    expect(middle?.thicknessMax.status).toBe('not-measured');
    expect(stdout.split('\n')[0]).toMatch(/^\d\d\.\d %/);
  });

  test('points twice and NaN rows are dropped and counted', async () => {
    const { positions } = smallScan();
    const all = new Float64Array(positions.length + 303);
    all.set(positions);
    all.set(positions.subarray(0, 300), positions.length);
    all.fill(Number.NaN, positions.length + 300);
    const scan = bench.put('twice.ply', plyOf({ kind: 'cloud', positions: all }));
    const { code, stderr } = await run(['inspect', nominal, scan, '--out', bench.path('twice'), '--heights', '60']);
    expect(code).toBe(0);
    expect(stderr).toContain('load/duplicate-points');
    expect(stderr).toContain('load/non-finite-dropped');
  });

  test('a file that states no unit is taken as mm with a warning, in the results too', async () => {
    const table = tableText(nominalTable()).replace(/^#.*\n/, '');
    const bare = bench.put('bare.csv', table);
    const found = await run(['sections', bare, '--json']);
    expect(found.code).toBe(0);
    expect(found.stderr).toContain('--unit');
    const codes = resultsFromJson(found.stdout, 'stdout').warnings.map(({ code }) => code);
    expect(codes).toContain('load/unit-assumed');
    const stated = await run(['sections', bare, '--json', '--unit', 'inch']);
    const [mm, inch] = [found, stated].map(
      ({ stdout }) => resultsFromJson(stdout, 'stdout').sections[3].measured!.chordFar.value!,
    );
    expect(Math.abs(inch / mm - INCH)).toBeLessThan(1e-6);
    expect(stated.stderr).not.toContain('unit-assumed');
  });
});
