import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { acceptedFormats, FORMATS } from '../../src/load/registry.ts';
import { writePly } from '../../src/load/write-ply.ts';
import { writeStl } from '../../src/load/write-stl.ts';
import { igesText } from '../../src/report/iges-write.ts';
import { stepText } from '../../src/report/step-write.ts';
import { OPTIONS, taperSet } from './cad-parts.ts';
import { bytesOf, corners, failure, objText, plyText, read, sectionCsv, stlText, TETRAHEDRON } from './read.ts';

/** One good file of every format. */
const SAMPLES: Record<string, Uint8Array> = {
  'ply-binary': writePly(TETRAHEDRON),
  'ply-text': bytesOf(plyText(TETRAHEDRON)),
  'stl-binary': writeStl(TETRAHEDRON),
  'stl-text': bytesOf(stlText(TETRAHEDRON)),
  step: bytesOf(stepText(taperSet(), OPTIONS)),
  iges: bytesOf(igesText(taperSet(), OPTIONS)),
  obj: bytesOf(objText(TETRAHEDRON)),
  table: bytesOf(sectionCsv()),
};

test('every format has a sample and words for people', () => {
  expect(FORMATS.map((format) => format.id).sort()).toEqual(Object.keys(SAMPLES).sort());
  expect(acceptedFormats.every((words) => words.includes('.'))).toBe(true);
});

for (const { id } of FORMATS) {
  test(`${id}: read by its content, the same in pieces of any size`, async () => {
    const bytes = SAMPLES[id];
    const whole = await read(bytes);
    expect(whole.format).toBe(id);
    expect(whole.sha256).toBe(createHash('sha256').update(bytes).digest('hex'));
    expect(whole.bytes).toBe(bytes.length);
    for (const chunk of [1, 7, 100]) expect(await read(bytes, {}, chunk)).toEqual(whole);
  });

  test(`${id}: mesh corners come back exactly`, async () => {
    const { shape, triangles, points } = await read(SAMPLES[id]);
    if (shape.kind !== 'mesh') return expect(['step', 'iges', 'table']).toContain(id);
    expect(corners(shape)).toEqual(corners(TETRAHEDRON));
    expect([points, triangles, shape.positions.length]).toEqual([4, 4, 12]);
  });

  test(`${id}: a file cut short is refused whatever the pieces`, async () => {
    if (id === 'obj' || id === 'table') return;
    for (const missing of [8, 14, 40]) {
      const bytes = SAMPLES[id].subarray(0, SAMPLES[id].length - missing);
      for (const chunk of [undefined, 1]) {
        const error = await failure(bytes, {}, chunk);
        expect(error.code).toBe('load/truncated');
        expect(error.message).toMatch(/\d/);
        expect(error.exitCode).toBe(3);
      }
    }
  });
}
