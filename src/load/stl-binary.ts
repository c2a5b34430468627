import { checkDeclared, safeCapacity } from './declared-size.ts';
import { finishMesh } from './finish-mesh.ts';
import { type ByteSink, type Format, type FormatInput, loadError, type ParsedShape, warn } from './format.ts';
import { textOf } from './numbers.ts';
import { looksLikeText } from './sniff.ts';
import { indexStore, pushTriangle } from './stores.ts';
import { noteUnitText, type UnitNote } from './units.ts';
import { createWelder } from './weld.ts';

const HEADER = 84;
const RECORD = 50;

/** True when the records after the header look like triangles: finite, of sensible size, normals of length 0 or 1. */
function plausibleRecords(head: Uint8Array): boolean {
  if (!head.subarray(0, 80).every((c) => c === 0 || c === 9 || c === 10 || c === 13 || c >= 32)) return false;
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  const records = Math.min(10, Math.floor((head.length - HEADER) / RECORD));
  for (let r = 0; r < records; r++) {
    const at = HEADER + r * RECORD;
    let normal = 0;
    for (let k = 0; k < 12; k++) {
      const value = view.getFloat32(at + 4 * k, true);
      const size = Math.abs(value);
      if (!(size < 1e7) || (size !== 0 && size < 1e-30)) return false;
      if (k < 3) normal += value * value;
    }
    if (normal !== 0 && Math.abs(normal - 1) > 0.2) return false;
  }
  return records > 0 || view.getUint32(80, true) > 0;
}

function sniff(head: Uint8Array, size: number | null): boolean {
  if (head.length < HEADER) return false;
  const count = new DataView(head.buffer, head.byteOffset, head.byteLength).getUint32(80, true);
  if (size === HEADER + RECORD * count) return true;
  return !looksLikeText(head) && plausibleRecords(head);
}

function parse(input: FormatInput): ByteSink {
  const { head } = input;
  const count = new DataView(head.buffer, head.byteOffset, head.byteLength).getUint32(80, true);
  const need = HEADER + RECORD * count;
  checkDeclared(input, count, 'triangles', need, 'byte 80');
  if (input.size !== null && input.size - need >= RECORD) {
    const message = `The header declares ${count} triangles (${need} bytes); the file has ${input.size} bytes.`;
    throw loadError(input, 'load/absurd-count', message, 'byte 80', 'The header is damaged: export the file again.');
  }
  const note: UnitNote = { unit: null };
  noteUnitText(input, note, textOf(head, 0, 80).replaceAll('\0', ' '), 'byte 0');
  const expected = safeCapacity(input, count);
  const welder = createWelder(input, Math.ceil(expected / 2) + 64);
  const triangles = indexStore(3 * expected);
  const carry = new Uint8Array(RECORD);
  const carryView = new DataView(carry.buffer);
  let carried = 0;
  let skip = HEADER;
  let found = 0;
  let bytes = 0;

  function corner(view: DataView, at: number): number {
    const x = view.getFloat32(at, true);
    const y = view.getFloat32(at + 4, true);
    const z = view.getFloat32(at + 8, true);
    if (x - x + (y - y) + (z - z) !== 0) {
      const message = `Triangle ${found + 1} has a corner that is not finite.`;
      const place = `byte ${HEADER + RECORD * found}`;
      throw loadError(input, 'load/non-finite', message, place, 'Export the mesh again; repair it first if need be.');
    }
    return welder.vertex(x, y, z);
  }

  function record(view: DataView, at: number): void {
    const a = corner(view, at + 12);
    const b = corner(view, at + 24);
    pushTriangle(triangles, a, b, corner(view, at + 36), input);
    found++;
  }

  function push(chunk: Uint8Array): void {
    bytes += chunk.length;
    let at = Math.min(skip, chunk.length);
    skip -= at;
    if (carried > 0 && found < count) {
      const more = Math.min(RECORD - carried, chunk.length - at);
      carry.set(chunk.subarray(at, at + more), carried);
      at += more;
      carried += more;
      if (carried < RECORD) return;
      record(carryView, 0);
      carried = 0;
    }
    const view = new DataView(chunk.buffer, chunk.byteOffset, chunk.byteLength);
    for (; found < count && at + RECORD <= chunk.length; at += RECORD) record(view, at);
    if (found < count && at < chunk.length) {
      carry.set(chunk.subarray(at), 0);
      carried = chunk.length - at;
    }
  }

  function end(): ParsedShape {
    if (found < count) {
      const message = `The header declares ${count} triangles (${need} bytes); ${found} were found in ${bytes} bytes.`;
      const remedy = 'Copy or export the file again; its end is missing.';
      throw loadError(input, 'load/truncated', message, `byte ${bytes}`, remedy);
    }
    if (bytes > need) {
      const message = `${bytes - need} bytes after the last triangle are not read.`;
      warn(input, 'load/trailing-bytes', message, `byte ${need}`, 'Export the file again if something is missing.');
    }
    const shape = finishMesh(input, welder.positions, triangles);
    return { shape, unit: note.unit, points: shape.positions.length / 3, triangles: found };
  }

  return { push, end };
}

export const stlBinary: Format = { id: 'stl-binary', words: 'triangle mesh, STL binary (.stl)', sniff, parse };
