import { addPoint, cloudBuilder, finishCloud } from './cloud-builder.ts';
import { createFields, fieldNumber, firstIs, notANumber, splitBlank } from './fields.ts';
import { finishMesh } from './finish-mesh.ts';
import { type ByteSink, type Format, type FormatInput, loadError, type ParsedShape } from './format.ts';
import { lineFeeder } from './lines.ts';
import { parseNumber, textOf } from './numbers.ts';
import { headLines, looksLikeText } from './sniff.ts';
import { doubleStore, indexStore, push3, pushTriangle } from './stores.ts';
import { noteUnitText, type UnitNote } from './units.ts';

const KEYWORD = /^(v|vn|vt|vp|f|l|p|o|g|s|usemtl|mtllib)$/;
const SLASH = 47;

function sniff(head: Uint8Array): boolean {
  if (!looksLikeText(head)) return false;
  let vertices = 0;
  for (const line of headLines(head, true)) {
    const words = line.trim().split(/\s+/);
    if (words[0] === '' || words[0].startsWith('#')) continue;
    if (!KEYWORD.test(words[0])) return false;
    if (words[0] === 'v') vertices++;
    if (vertices > 2 || words[0] === 'f') return true;
  }
  return vertices > 0;
}

function parse(input: FormatInput): ByteSink {
  const fields = createFields();
  const note: UnitNote = { unit: null };
  const positions = doubleStore(3072);
  const triangles = indexStore(3072);
  let badLine = 0;
  let bad = 0;
  let found = 0;
  let highest = -1;
  let highestLine = 0;
  let faces = 0;

  function vertex(bytes: Uint8Array, line: number): void {
    if (fields.count < 4) {
      const message = `A vertex needs 3 numbers; ${fields.count - 1} were found.`;
      throw loadError(
        input,
        'load/column-count',
        message,
        `line ${line}`,
        'Correct the line or export the file again.',
      );
    }
    const x = fieldNumber(input, bytes, fields, 1, line);
    const y = fieldNumber(input, bytes, fields, 2, line);
    const z = fieldNumber(input, bytes, fields, 3, line);
    if (x - x + (y - y) + (z - z) !== 0 && bad++ === 0) badLine = line;
    push3(positions, x, y, z, input);
  }

  function wrongIndex(index: number, vertices: number, line: number): Error {
    const message = `A face uses vertex ${index}; the file has ${vertices} vertices.`;
    return loadError(input, 'load/face-index', message, `line ${line}`, 'The mesh is damaged: export it again.');
  }

  /** Index of the vertex a corner such as `7`, `7/1`, `7//3` or `-2` names. */
  function corner(bytes: Uint8Array, field: number, line: number): number {
    const from = fields.from[field];
    const slash = bytes.subarray(from, fields.to[field]).indexOf(SLASH);
    const to = slash < 0 ? fields.to[field] : from + slash;
    const value = parseNumber(bytes, from, to);
    if (value % 1 !== 0) throw notANumber(input, textOf(bytes, from, to), line, field + 1);
    const vertices = positions.length / 3;
    const index = value < 0 ? vertices + value : value - 1;
    if (index < 0) throw wrongIndex(value, vertices, line);
    if (index > highest) {
      highest = index;
      highestLine = line;
    }
    return index;
  }

  function face(bytes: Uint8Array, line: number): void {
    faces++;
    if (fields.count < 4) {
      const message = `A face needs at least 3 corners; ${fields.count - 1} were found.`;
      throw loadError(
        input,
        'load/column-count',
        message,
        `line ${line}`,
        'Correct the line or export the file again.',
      );
    }
    const first = corner(bytes, 1, line);
    let before = corner(bytes, 2, line);
    for (let k = 3; k < fields.count; k++) {
      const next = corner(bytes, k, line);
      pushTriangle(triangles, first, before, next, input);
      before = next;
      found++;
    }
  }

  const feeder = lineFeeder(input, (bytes, from, to, line) => {
    splitBlank(bytes, from, to, fields);
    if (fields.count === 0) return;
    if (bytes[fields.from[0]] === 35) {
      noteUnitText(input, note, textOf(bytes, fields.from[0] + 1, to), `line ${line}`);
    } else if (firstIs(bytes, fields, 'v')) vertex(bytes, line);
    else if (firstIs(bytes, fields, 'f')) face(bytes, line);
    else if (!KEYWORD.test(textOf(bytes, fields.from[0], fields.to[0]))) {
      const message = `"${textOf(bytes, from, Math.min(to, from + 40))}" is no line of an OBJ mesh.`;
      throw loadError(
        input,
        'load/format-unknown',
        message,
        `line ${line}`,
        'Export the mesh with vertices and faces.',
      );
    }
  });

  function cloud(): ParsedShape {
    const points = positions.length / 3;
    const builder = cloudBuilder(input, points, false);
    for (let i = 0; i < positions.length; i += 3) {
      addPoint(builder, positions.data[i], positions.data[i + 1], positions.data[i + 2], badLine);
    }
    return { shape: finishCloud(builder, 'line'), unit: note.unit, points, triangles: 0 };
  }

  function end(): ParsedShape {
    feeder.end();
    if (faces === 0) return cloud();
    const vertices = positions.length / 3;
    if (highest >= vertices) throw wrongIndex(highest + 1, vertices, highestLine);
    if (bad > 0) {
      const message = `${bad} of ${vertices} vertices of the mesh are not finite.`;
      throw loadError(input, 'load/not-a-number', message, `line ${badLine}`, 'Repair the mesh and export it again.');
    }
    const shape = finishMesh(input, positions, triangles);
    return { shape, unit: note.unit, points: vertices, triangles: found };
  }

  return { push: feeder.push, end };
}

export const obj: Format = { id: 'obj', words: 'mesh or points, OBJ (.obj)', sniff, parse };
