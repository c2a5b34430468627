import { existsSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { CamberwrightError } from '../../src/error.ts';
import { type ByteSource, sourceFromBlob, sourceFromBytes } from '../../src/load/byte-source.ts';
import { checkDeclared } from '../../src/load/declared-size.ts';
import { readShape } from '../../src/load/read-shape.ts';
import { writePly } from '../../src/load/write-ply.ts';
import { writeStl } from '../../src/load/write-stl.ts';
import { bytesOf, read, sectionCsv, TETRAHEDRON } from './read.ts';

/** A source that does not know its size. */
function unsized(bytes: Uint8Array): ByteSource {
  return { ...sourceFromBytes('file', bytes, 50), size: null };
}

test('a file object, and a stream of unknown size', async () => {
  for (const bytes of [bytesOf(sectionCsv()), writePly(TETRAHEDRON), writeStl(TETRAHEDRON)]) {
    const expected = await read(bytes);
    expect(await readShape(sourceFromBlob('file', new Blob([bytes as BlobPart])), {}, {})).toEqual(expected);
    expect(await readShape(unsized(bytes), {}, {})).toEqual(expected);
  }
});

test('a large file of unknown size that is cut', async () => {
  const positions = new Float64Array(30_000).map((_, i) => i);
  const bytes = writePly({ kind: 'cloud', positions });
  const whole = await readShape(unsized(bytes), {}, {});
  expect(whole.shape.kind === 'cloud' && whole.shape.positions).toEqual(positions);
  const cut = readShape(unsized(bytes.subarray(0, bytes.length - 1)), {}, {});
  await expect(cut).rejects.toMatchObject({ code: 'load/truncated' });
});

test('progress ends at all bytes; a cancelled read stops', async () => {
  const bytes = bytesOf(sectionCsv());
  const seen: number[] = [];
  await readShape(sourceFromBytes('file', bytes, 10), {}, { onProgress: ({ done }) => seen.push(done) });
  expect(seen.at(-1)).toBe(bytes.length);
  const control = new AbortController();
  let pieces = 0;
  const source: ByteSource = {
    name: 'file',
    size: bytes.length,
    async *chunks() {
      for (let at = 0; at < bytes.length; at += 10) {
        if (++pieces === 5) control.abort();
        yield bytes.subarray(at, at + 10);
      }
    },
  };
  await expect(readShape(source, {}, { signal: control.signal })).rejects.toMatchObject({ code: 'cancelled' });
  expect(pieces).toBe(5);
});

test('a source that fails', async () => {
  const source: ByteSource = {
    name: 'file',
    size: 9,
    async *chunks() {
      yield Uint8Array.of(1);
      throw new Error('gone');
    },
  };
  await expect(readShape(source, {}, {})).rejects.toMatchObject({ code: 'load/unreadable', where: 'file' });
});

test('more rows than can be held are refused before room is made', () => {
  const input = { name: 'file', size: null, head: new Uint8Array(0), complete: false, options: {}, warnings: [] };
  try {
    checkDeclared(input, 4e9, 'rows', 1e11, 'header');
    expect.unreachable();
  } catch (error) {
    expect(error instanceof CamberwrightError && error.code).toBe('load/too-large');
  }
});

for (const [name, sections] of [
  ['iea15mw_blade', 10],
  ['nasa_rotor37', 13],
  ['nasa_rotor67', 13],
] as const) {
  test(`published table ${name}`, async ({ skip }) => {
    const file = new URL(`../../../shared/data/${name}.csv`, import.meta.url);
    if (!existsSync(file)) skip(`the published table ${name}.csv is not here`);
    const text = readFileSync(file, 'utf8');
    const { shape, points } = await read(text);
    const rows = text.trim().split('\n').slice(1);
    expect(points).toBe(rows.length);
    expect(shape.kind === 'sections' && shape.sections.length).toBe(sections);
    const [id, z, x, y] = rows[0].split(',');
    const first = shape.kind === 'sections' && shape.sections.find((section) => section.id === id);
    expect(first && [first.height, first.points[0], first.points[1]]).toEqual([Number(z), Number(x), Number(y)]);
  });
}
