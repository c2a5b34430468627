import { type ByteSink, type Format, type FormatInput, loadError, type ParsedShape, warn } from './format.ts';
import { textOf } from './numbers.ts';
import { type PlyElement, parsePlyHeader, type ScalarType, SIZE_OF } from './ply-header.ts';
import { plyLayout } from './ply-layout.ts';
import { plyRows } from './ply-rows.ts';

const LONGEST_LIST = 1 << 20;

function scalar(view: DataView, at: number, type: ScalarType, little: boolean): number {
  switch (type) {
    case 'f32':
      return view.getFloat32(at, little);
    case 'f64':
      return view.getFloat64(at, little);
    case 'i32':
      return view.getInt32(at, little);
    case 'u32':
      return view.getUint32(at, little);
    case 'u8':
      return view.getUint8(at);
    case 'i8':
      return view.getInt8(at);
    case 'i16':
      return view.getInt16(at, little);
    case 'u16':
      return view.getUint16(at, little);
  }
}

function sniff(head: Uint8Array): boolean {
  return /^ply[ \t]*[\r\n]/.test(textOf(head, 0, 16)) && !/[\r\n]format[ \t]+ascii/.test(textOf(head, 0, head.length));
}

function parse(input: FormatInput): ByteSink {
  const header = parsePlyHeader(input);
  const layout = plyLayout(input, header);
  const little = header.encoding === 'little';
  const rows = plyRows(input, header, layout, 'point');
  const { elements } = header;
  const [px, py, pz] = layout.xyz;
  const normal = layout.faces === null ? layout.normal : null;
  const offsets = new Int32Array(elements.reduce((most, e) => Math.max(most, e.properties.length), 1));
  let corners = new Float64Array(16);
  let carry: Uint8Array = new Uint8Array(0);
  let element = 0;
  let row = 0;
  let skip = header.bodyOffset;
  let bytes = 0;
  let trailing = 0;

  function listLength(view: DataView, at: number, type: ScalarType): number {
    const length = scalar(view, at, type, little);
    if (length >= 0 && length <= LONGEST_LIST) return length;
    const message = `A list of the element "${elements[element].name}" declares ${length} entries.`;
    throw loadError(input, 'load/absurd-count', message, `row ${row + 1}`, 'The file is damaged: export it again.');
  }

  /** Notes where the properties of the row at `at` stand; returns where it ends, or −1 when it is cut. */
  function walk(view: DataView, at: number, end: number, { properties }: PlyElement): number {
    for (let p = 0; p < properties.length; p++) {
      const { type, count } = properties[p];
      offsets[p] = at;
      if (count === null) at += SIZE_OF[type];
      else {
        if (at + SIZE_OF[count] > end) return -1;
        at += SIZE_OF[count] + SIZE_OF[type] * listLength(view, at, count);
      }
      if (at > end) return -1;
    }
    return at;
  }

  function takeVertex(view: DataView, shift: number): void {
    const { properties } = layout.vertices;
    const x = scalar(view, offsets[px] + shift, properties[px].type, little);
    const y = scalar(view, offsets[py] + shift, properties[py].type, little);
    const z = scalar(view, offsets[pz] + shift, properties[pz].type, little);
    if (normal === null) rows.vertex(x, y, z, row + 1);
    else {
      const [pa, pb, pc] = normal;
      const a = scalar(view, offsets[pa] + shift, properties[pa].type, little);
      const b = scalar(view, offsets[pb] + shift, properties[pb].type, little);
      const c = scalar(view, offsets[pc] + shift, properties[pc].type, little);
      rows.vertexWithNormal(x, y, z, a, b, c, row + 1);
    }
  }

  function takeFace(view: DataView, { properties }: PlyElement): void {
    const { type, count } = properties[layout.indices];
    const at = offsets[layout.indices];
    const lengthType = count ?? 'u8';
    const length = listLength(view, at, lengthType);
    if (length > corners.length) corners = new Float64Array(2 * length);
    const first = at + SIZE_OF[lengthType];
    for (let k = 0; k < length; k++) corners[k] = scalar(view, first + k * SIZE_OF[type], type, little);
    rows.face(corners, length, row + 1);
  }

  /** Takes whole rows of a vertex element without lists, all of one length. */
  function takeVertices(view: DataView, at: number, end: number, current: PlyElement): number {
    const next = walk(view, at, end, current);
    if (next < 0) return at;
    const stride = next - at;
    const whole = Math.min(current.count - row, Math.floor((end - at) / stride));
    for (let i = 0; i < whole; i++, row++) takeVertex(view, i * stride);
    return at + whole * stride;
  }

  /** Takes the rows in [at, end) that are whole; returns where it stopped. */
  function take(view: DataView, at: number, end: number): number {
    while (element < elements.length) {
      const current = elements[element];
      if (row === current.count || current.properties.length === 0) {
        element++;
        row = 0;
        continue;
      }
      const isVertex = current === layout.vertices;
      if (isVertex && current.properties.every((p) => p.count === null)) {
        const stopped = takeVertices(view, at, end, current);
        if (stopped === at) return at;
        at = stopped;
        continue;
      }
      for (; row < current.count; row++) {
        const next = walk(view, at, end, current);
        if (next < 0) return at;
        if (isVertex) takeVertex(view, 0);
        else if (current === layout.faces) takeFace(view, current);
        at = next;
      }
    }
    return at;
  }

  function push(chunk: Uint8Array): void {
    bytes += chunk.length;
    const cut = Math.min(skip, chunk.length);
    skip -= cut;
    if (element === elements.length) {
      trailing += chunk.length;
      return;
    }
    let work = chunk.subarray(cut);
    if (carry.length > 0) {
      work = new Uint8Array(carry.length + chunk.length);
      work.set(carry);
      work.set(chunk, carry.length);
    }
    const stopped = take(new DataView(work.buffer, work.byteOffset, work.byteLength), 0, work.length);
    if (element === elements.length) trailing = work.length - stopped;
    else carry = work.slice(stopped);
  }

  function end(): ParsedShape {
    const missing = elements[element];
    if (missing !== undefined) {
      const message = `The element "${missing.name}" declares ${missing.count} rows; ${row} were found in ${bytes} bytes.`;
      const remedy = 'Copy or export the file again; its end is missing.';
      throw loadError(input, 'load/truncated', message, `byte ${bytes}`, remedy);
    }
    if (trailing > 0) {
      const message = `${trailing} bytes after the last declared row are not read.`;
      warn(input, 'load/trailing-bytes', message, null, 'Export the file again if something is missing.');
    }
    return rows.end();
  }

  return { push, end };
}

export const plyBinary: Format = { id: 'ply-binary', words: 'mesh or point cloud, PLY binary (.ply)', sniff, parse };
