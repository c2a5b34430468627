import { type FormatInput, loadError } from './format.ts';
import { noteUnitText, type UnitNote } from './units.ts';

export type ScalarType = 'i8' | 'u8' | 'i16' | 'u16' | 'i32' | 'u32' | 'f32' | 'f64';

export const SIZE_OF: Record<ScalarType, number> = { i8: 1, u8: 1, i16: 2, u16: 2, i32: 4, u32: 4, f32: 4, f64: 8 };

const TYPES: Record<string, ScalarType> = {
  char: 'i8',
  int8: 'i8',
  uchar: 'u8',
  uint8: 'u8',
  short: 'i16',
  int16: 'i16',
  ushort: 'u16',
  uint16: 'u16',
  int: 'i32',
  int32: 'i32',
  uint: 'u32',
  uint32: 'u32',
  float: 'f32',
  float32: 'f32',
  double: 'f64',
  float64: 'f64',
};

interface PlyProperty {
  name: string;
  type: ScalarType;
  /** Type of the length of a list; null for a single value. */
  count: ScalarType | null;
}

export interface PlyElement {
  name: string;
  count: number;
  properties: PlyProperty[];
}

export interface PlyHeader {
  encoding: 'text' | 'little' | 'big';
  elements: PlyElement[];
  /** First byte and first line after the header. */
  bodyOffset: number;
  bodyLine: number;
  unit: UnitNote;
}

/**
 * Returns the header of a PLY file.
 *
 * @throws `load/truncated` without `end_header`, `load/format-unknown` for a line that is not understood
 */
export function parsePlyHeader(input: FormatInput): PlyHeader {
  const text = Array.from(input.head, (c) => String.fromCharCode(c)).join('');
  const lineEnd = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
  const stop = /(?:\r\n|\n|\r)[ \t]*end_header[ \t]*/.exec(text);
  if (stop === null) {
    const message = `The header has no end_header in the first ${input.head.length} bytes.`;
    throw loadError(input, 'load/truncated', message, `byte ${input.head.length}`, 'Copy or export the file again.');
  }
  const lines = text.slice(0, stop.index).split(lineEnd);
  const after = stop.index + stop[0].length;
  const header: PlyHeader = {
    encoding: 'text',
    elements: [],
    bodyOffset: text.startsWith(lineEnd, after) ? after + lineEnd.length : after,
    bodyLine: lines.length + 2,
    unit: { unit: null },
  };
  let formatSeen = false;
  for (let i = 1; i < lines.length; i++) {
    const words = lines[i].trim().split(/\s+/);
    const wrong = (): Error => {
      const message = `"${lines[i].trim().slice(0, 60)}" is no line of a PLY header.`;
      return loadError(input, 'load/format-unknown', message, `line ${i + 1}`, 'Export the file again as PLY.');
    };
    if (words[0] === 'comment' || words[0] === 'obj_info') {
      noteUnitText(input, header.unit, words.slice(1).join(' '), `line ${i + 1}`);
    } else if (words[0] === 'format') {
      formatSeen = true;
      if (words[1] === 'binary_little_endian') header.encoding = 'little';
      else if (words[1] === 'binary_big_endian') header.encoding = 'big';
      else if (words[1] !== 'ascii') throw wrong();
    } else if (words[0] === 'element') {
      if (words.length !== 3 || !/^\d+$/.test(words[2])) throw wrong();
      header.elements.push({ name: words[1], count: Number(words[2]), properties: [] });
    } else if (words[0] === 'property') {
      const element = header.elements.at(-1);
      const list = words[1] === 'list';
      const type = TYPES[words[list ? 3 : 1]];
      const count = list ? (TYPES[words[2]] ?? null) : null;
      if (element === undefined || type === undefined || words.length !== (list ? 5 : 3) || (list && count === null)) {
        throw wrong();
      }
      element.properties.push({ name: words[list ? 4 : 2], type, count });
    } else if (words[0] !== '') throw wrong();
  }
  if (!formatSeen) {
    throw loadError(
      input,
      'load/format-unknown',
      'The header has no format line.',
      'line 2',
      'Export the file as PLY.',
    );
  }
  return header;
}
