import { createFields, fieldNumber, splitBlank } from './fields.ts';
import { type ByteSink, type Format, type FormatInput, loadError, type ParsedShape, warn } from './format.ts';
import { lineFeeder } from './lines.ts';
import { textOf } from './numbers.ts';
import { type PlyElement, parsePlyHeader } from './ply-header.ts';
import { plyLayout } from './ply-layout.ts';
import { plyRows } from './ply-rows.ts';

function sniff(head: Uint8Array): boolean {
  return /^ply[ \t]*[\r\n]/.test(textOf(head, 0, 16)) && /[\r\n]format[ \t]+ascii/.test(textOf(head, 0, head.length));
}

function parse(input: FormatInput): ByteSink {
  const header = parsePlyHeader(input);
  const layout = plyLayout(input, header);
  const rows = plyRows(input, header, layout, 'line');
  const fields = createFields();
  const elements = header.elements.filter((e) => e.count > 0 && e.properties.length > 0);
  const starts = new Int32Array(elements.reduce((most, e) => Math.max(most, e.properties.length), 1));
  let corners = new Float64Array(16);
  let element = 0;
  let row = 0;
  let skip = header.bodyOffset;
  let trailing = 0;
  let ended = false;

  /** Notes the field each property begins at; false for a last line that breaks off. */
  function place(bytes: Uint8Array, { name, properties }: PlyElement, line: number): boolean {
    let at = 0;
    for (let p = 0; p < properties.length && at <= fields.count; p++) {
      starts[p] = at;
      const list = properties[p].count !== null && at < fields.count;
      const length = list ? fieldNumber(input, bytes, fields, at, line) : 0;
      at += length >= 0 && length % 1 === 0 ? 1 + length : Number.POSITIVE_INFINITY;
    }
    if (at === fields.count) return true;
    if (ended && at > fields.count) return false;
    const message = `A row of the element "${name}" has ${fields.count} values; ${at} were expected.`;
    throw loadError(input, 'load/column-count', message, `line ${line}`, 'Correct the line or export the file again.');
  }

  function takeVertex(bytes: Uint8Array, line: number): void {
    const number = (p: number): number => fieldNumber(input, bytes, fields, starts[p], line);
    const [px, py, pz] = layout.xyz;
    const { normal } = layout;
    if (normal === null || layout.faces !== null) rows.vertex(number(px), number(py), number(pz), line);
    else {
      const [a, b, c] = normal;
      rows.vertexWithNormal(number(px), number(py), number(pz), number(a), number(b), number(c), line);
    }
  }

  function takeFace(bytes: Uint8Array, line: number): void {
    const at = starts[layout.indices];
    const length = fieldNumber(input, bytes, fields, at, line);
    if (length > corners.length) corners = new Float64Array(2 * length);
    for (let k = 0; k < length; k++) corners[k] = fieldNumber(input, bytes, fields, at + 1 + k, line);
    rows.face(corners, length, line);
  }

  const feeder = lineFeeder(
    input,
    (bytes, from, to, line) => {
      splitBlank(bytes, from, to, fields);
      if (fields.count === 0) return;
      const current = elements[element];
      if (current === undefined) {
        trailing++;
        return;
      }
      if (!place(bytes, current, line)) return;
      if (current === layout.vertices) takeVertex(bytes, line);
      else if (current === layout.faces) takeFace(bytes, line);
      if (++row === current.count) {
        element++;
        row = 0;
      }
    },
    header.bodyLine,
  );

  function push(chunk: Uint8Array): void {
    const cut = Math.min(skip, chunk.length);
    skip -= cut;
    feeder.push(chunk.subarray(cut));
  }

  function end(): ParsedShape {
    ended = true;
    feeder.end();
    const missing = elements[element];
    if (missing !== undefined) {
      const message = `The element "${missing.name}" declares ${missing.count} rows; ${row} were found.`;
      const remedy = 'Copy or export the file again; its end is missing.';
      throw loadError(input, 'load/truncated', message, 'end of file', remedy);
    }
    if (trailing > 0) {
      const message = `${trailing} lines after the last declared row are not read.`;
      warn(input, 'load/trailing-bytes', message, null, 'Export the file again if something is missing.');
    }
    return rows.end();
  }

  return { push, end };
}

export const plyText: Format = { id: 'ply-text', words: 'mesh or point cloud, PLY text (.ply)', sniff, parse };
