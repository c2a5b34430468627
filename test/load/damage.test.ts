import { expect, test } from 'vitest';
import { CamberwrightError } from '../../src/error.ts';
import { writePly } from '../../src/load/write-ply.ts';
import { writeStl } from '../../src/load/write-stl.ts';
import { seededRandom } from '../../src/math/random.ts';
import type { LoadedShape } from '../../src/model/shape.ts';
import { igesText } from '../../src/report/iges-write.ts';
import { stepText } from '../../src/report/step-write.ts';
import { OPTIONS, taperSet } from './cad-parts.ts';
import { bytesOf, objText, plyText, read, sectionCsv, stlText, TETRAHEDRON } from './read.ts';

const files: [string, Uint8Array][] = [
  ['ply-binary', writePly(TETRAHEDRON)],
  ['ply-text', bytesOf(plyText(TETRAHEDRON))],
  ['stl-binary', writeStl(TETRAHEDRON)],
  ['stl-text', bytesOf(stlText(TETRAHEDRON))],
  ['obj', bytesOf(objText(TETRAHEDRON))],
  ['step', bytesOf(stepText(taperSet(), OPTIONS))],
  ['iges', bytesOf(igesText(taperSet(), OPTIONS))],
  ['table', bytesOf(sectionCsv())],
];

/** Result or error of a read, in a form that compares. */
async function outcome(bytes: Uint8Array, chunk?: number): Promise<LoadedShape | string> {
  try {
    return await read(bytes, {}, chunk);
  } catch (error) {
    if (error instanceof CamberwrightError) return `${error.code} ${error.where} ${error.message}`;
    throw error;
  }
}

function numbersOf({ shape }: LoadedShape): Float64Array[] {
  return shape.kind === 'sections' ? shape.sections.map((section) => section.points) : [shape.positions];
}

test.each(files)(
  '%s: bytes changed, taken out or repeated at random end in a sound shape or a named error',
  async (_, good) => {
    const random = seededRandom(good.length);
    let refused = 0;
    for (let trial = 0; trial < 400; trial++) {
      let bytes = good.slice();
      const at = Math.floor(random() * bytes.length);
      const kind = trial % 4;
      if (kind < 2) bytes[at] = Math.floor(random() * (kind === 0 ? 256 : 128));
      else if (kind === 2) bytes = Uint8Array.of(...bytes.subarray(0, at), ...bytes.subarray(at + 1 + (trial % 9)));
      else bytes = Uint8Array.of(...bytes.subarray(0, at), ...bytes.subarray(Math.max(0, at - (trial % 30))));
      const whole = await outcome(bytes);
      expect(await outcome(bytes, 11)).toEqual(whole);
      if (typeof whole === 'string') refused++;
      else for (const numbers of numbersOf(whole)) expect(numbers.every(Number.isFinite)).toBe(true);
    }
    expect(refused).toBeGreaterThan(50);
  },
);
