import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { refuseForeign, removeOld, writeFiles } from '../../src/cli/write-files.ts';
import { type Bench, makeBench } from './parts.ts';

let bench: Bench;
beforeEach(() => {
  bench = makeBench();
});
afterEach(() => bench.remove());

const FILES = [
  { name: 'a.txt', content: 'one' },
  { name: 'b.bin', content: Uint8Array.of(1, 2, 3) },
];

test('writes all files, makes the folder, leaves no temporary names', async () => {
  const paths = await writeFiles(bench.path('x/y'), FILES, {});
  expect(paths).toEqual([bench.path('x/y/a.txt'), bench.path('x/y/b.bin')]);
  expect(readdirSync(bench.path('x/y')).sort()).toEqual(['a.txt', 'b.bin']);
  expect([...readFileSync(bench.path('x/y/b.bin'))]).toEqual([1, 2, 3]);
});

test('a cancel in the middle leaves the old files and nothing else', async () => {
  bench.put('a.txt', 'old');
  const controller = new AbortController();
  const writing = writeFiles(bench.folder, FILES, { signal: controller.signal });
  controller.abort();
  await expect(writing).rejects.toMatchObject({ code: 'cancelled', exitCode: 130 });
  expect(readdirSync(bench.folder)).toEqual(['a.txt']);
  expect(readFileSync(bench.path('a.txt'), 'utf8')).toBe('old');
});

test('a failure in the middle leaves no temporary file', async () => {
  mkdirSync(bench.path(`b.bin.${process.pid}.part`));
  await expect(writeFiles(bench.folder, FILES, {})).rejects.toMatchObject({ code: 'usage/unwritable', exitCode: 2 });
  expect(readdirSync(bench.folder).filter((name) => name.startsWith('a.txt'))).toEqual([]);
});

test('files of other origin are refused unless forced', () => {
  bench.put('a.txt', 'of the user');
  const check = (force: boolean, mine: boolean) => () => refuseForeign(bench.folder, ['a.txt', 'c'], force, () => mine);
  expect(check(false, false)).toThrow(expect.objectContaining({ code: 'usage/exists', where: bench.path('a.txt') }));
  expect(check(false, true)).not.toThrow();
  expect(check(true, false)).not.toThrow();
});

test('what an earlier run left and this one did not write is removed, other files stay', async () => {
  const files = [{ name: 'a.txt', content: 'new' }];
  await writeFiles(
    bench.path('x'),
    [...files, { name: 'b.txt', content: 'old' }, { name: 'own.txt', content: '' }],
    {},
  );
  await writeFiles(bench.path('x'), files, {});
  removeOld(bench.path('x'), ['a.txt', 'b.txt'], files);
  expect(readdirSync(bench.path('x')).sort()).toEqual(['a.txt', 'own.txt']);
});
