import { existsSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeMesh } from '../../samples/tessellate.ts';
import { writeStl } from '../../src/load/write-stl.ts';
import { type Bench, makeBench, nominalTable, plyOf, smallScan, tableText } from './parts.ts';
import { buildOnce, run } from './run.ts';

let bench: Bench;
beforeAll(async () => {
  bench = makeBench();
  bench.put('nominal.csv', tableText(nominalTable()));
  bench.put('scan.ply', plyOf(smallScan()));
  await buildOnce();
}, 120_000);
afterAll(() => bench.remove());

const stl = () => writeStl(makeMesh({ rows: 11, columns: 64 }));
const table = () => tableText(nominalTable());
const asciiPly = (count: number, rows: string[]) =>
  `ply\nformat ascii 1.0\ncomment units mm\nelement vertex ${count}\nproperty double x\nproperty double y\nproperty double z\nend_header\n${rows.join('\n')}\n`;
const absurdStl = () => {
  const bytes = stl();
  new DataView(bytes.buffer).setUint32(80, 4_000_000_000, true);
  return bytes;
};
const onlyNan = () => {
  const cloud = smallScan();
  return plyOf({ kind: 'cloud', positions: cloud.positions.fill(Number.NaN) });
};
const lines = (text: string, from: number, to: number) => text.split('\n').slice(from, to).join('\n');
/** A section whose flanks cross: an outline like the figure eight. */
const crossing = () => {
  const rows = Array.from({ length: 80 }, (_, i) => {
    const t = (2 * Math.PI * (i + 20.3)) / 80;
    return `A,10,${20 * Math.sin(t)},${4 * Math.sin(2 * t)}`;
  });
  return `# units: mm\nsection,z,x,y\n${rows.join('\n')}\n`;
};

const CASES: [string, string, () => string | Uint8Array, RegExp, RegExp][] = [
  ['empty', 'empty.stl', () => '', /load\/empty/, /empty\.stl/],
  ['binary STL cut short', 'short.stl', () => stl().subarray(0, 5000), /load\/truncated/, /short\.stl, /],
  [
    'binary PLY cut short',
    'short.ply',
    () => plyOf(smallScan()).subarray(0, 99_999),
    /load\/truncated/,
    /short\.ply, /,
  ],
  ['text PLY cut short', 'text.ply', () => asciiPly(5, ['0 0 0', '1 0 0', '1 1 0']), /load\/truncated/, /text\.ply, /],
  [
    'table cut inside a row',
    'cut.csv',
    () =>
      table()
        .slice(0, 3000)
        .replace(/,[^,]*$/, ''),
    /load\//,
    /cut\.csv, line/,
  ],
  [
    'picture',
    'picture.ply',
    () => Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13),
    /load\/format-unknown/,
    /picture\.ply/,
  ],
  ['prose', 'prose.csv', () => 'These are words, and\nno numbers at all.\n', /load\//, /prose\.csv/],
  ['all NaN', 'nan.ply', onlyNan, /load\/all-non-finite/, /nan\.ply/],
  [
    'NaN in a section table',
    'nan.csv',
    () => table().replace(/,[-\d.]+\n/, ',nan\n'),
    /load\/not-a-number/,
    /nan\.csv, line 3/,
  ],
  [
    'Inf in a section table',
    'inf.csv',
    () => table().replace(/,[-\d.]+\n/, ',inf\n'),
    /load\/not-a-number/,
    /inf\.csv, line 3/,
  ],
  ['absurd count in an STL', 'absurd.stl', absurdStl, /load\/(absurd-count|truncated)/, /absurd\.stl, /],
  [
    'absurd count in a PLY',
    'absurd.ply',
    () => asciiPly(4_000_000_000, ['0 0 0']),
    /load\/(absurd-count|truncated)/,
    /absurd\.ply, /,
  ],
  [
    'section of one point',
    'one.csv',
    () => `${lines(table(), 0, 40)}\nlast,130,1,2\n`,
    /load\/section-too-few-points/,
    /section last/,
  ],
  ['section that crosses itself', 'eight.csv', crossing, /load\/section-crosses-itself/, /section A/],
  [
    'two sections at one height',
    'level.csv',
    () => `${table()}${lines(table(), 2, 162).replace(/^[^,]+/gm, 'again')}\n`,
    /load\/sections-one-height/,
    /section/,
  ],
];

describe('a file that cannot be read exits 3 with code, place, cause and remedy', () => {
  test.each(CASES)('%s', async (_, name, make, code, place) => {
    const path = bench.put(name, make());
    const started = performance.now();
    const { code: exit, stdout, stderr } = await run(['info', path]);
    expect(exit).toBe(3);
    expect(stdout).toContain('0 of 1 file read; 1 cannot be read.');
    expect(stderr).toMatch(/^error: .{10,}/);
    expect(stderr).toMatch(code);
    expect(/where {3}(.*)/.exec(stderr)?.[1]).toMatch(place);
    expect(stderr).toMatch(/remedy {2}.{10,}/);
    expect(performance.now() - started).toBeLessThan(20_000);
  });

  test.each(['empty.stl', 'short.ply', 'eight.csv'])('inspect refuses %s and leaves no results', async (name) => {
    bench.put('empty.stl', '');
    bench.put('short.ply', plyOf(smallScan()).subarray(0, 99_999));
    bench.put('eight.csv', crossing());
    const files =
      name === 'eight.csv' ? [bench.path(name), bench.path('scan.ply')] : [bench.path('nominal.csv'), bench.path(name)];
    const { code, stdout } = await run(['inspect', ...files]);
    expect(code).toBe(3);
    expect(stdout).toBe('');
    expect(existsSync(bench.path('results'))).toBe(false);
  });

  test('the files that can be read are still shown', async () => {
    bench.put('empty.stl', '');
    const files = [bench.path('empty.stl'), bench.path('nominal.csv')];
    const { code, stdout } = await run(['info', ...files, '--json']);
    expect(code).toBe(3);
    const found = JSON.parse(stdout).files;
    expect(found[0].error).toMatchObject({ code: 'load/empty', where: 'empty.stl' });
    expect(found[1]).toMatchObject({ kind: 'sections', unit: 'mm', unitStated: true });
    expect(found[1].sections).toHaveLength(9);
  });
});

describe('a bad plan or pose exits 2', () => {
  const args = (option: string, path: string) => [
    'inspect',
    bench.path('nominal.csv'),
    bench.path('scan.ply'),
    option,
    path,
  ];

  test.each([
    ['{"schema": "camberwright/plan", "schemaVersion": 1,}', 'plan/syntax', 'line 1, column 52'],
    [
      '{"schema": "camberwright/plan", "schemaVersion": 1, "setback": [1]}',
      'plan/unknown-key',
      'Did you mean "setbacks"?',
    ],
    ['{"schema": "camberwright/plan", "schemaVersion": 1, "minCoverage": 98}', 'plan/value', 'minCoverage'],
  ])('plan %s', async (text, code, hint) => {
    const { code: exit, stderr } = await run(args('--plan', bench.put('plan.json', text)));
    expect(exit).toBe(2);
    expect(stderr).toContain(code);
    expect(stderr).toContain(hint);
  });

  test.each([
    ['no matrix', '{"turn": 3}', 'no matrix'],
    ['scaled', JSON.stringify({ matrix: [2, 0, 0, 0, 0, 2, 0, 0, 0, 0, 2, 0, 0, 0, 0, 1] }), 'right angles'],
    ['no numbers', JSON.stringify({ matrix: Array(16).fill('1') }), '16 numbers'],
    ['column by column', JSON.stringify({ matrix: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 5, 0, 0, 1] }), 'last row'],
  ])('pose: %s', async (_, text, hint) => {
    const { code, stderr } = await run(args('--pose', bench.put('pose.json', text)));
    expect(code).toBe(2);
    expect(stderr).toContain('usage/pose');
    expect(stderr).toContain('where   pose.json');
    expect(stderr).toContain(hint);
  });
});
