import { addField, type Fields, splitBlank } from './fields.ts';

const QUOTE = 34;
const COMMA = 44;

/** How the fields of a text table are set apart. */
export interface Separation {
  /** Byte between fields; 32 stands for any run of blanks and tabs. */
  delimiter: number;
  /** Byte of the decimal mark. */
  decimal: number;
}

/** Cuts one field per delimiter; blanks around a field and quotes are taken off. */
function splitAt(
  bytes: Uint8Array,
  from: number,
  to: number,
  { delimiter, decimal }: Separation,
  fields: Fields,
): void {
  fields.count = 0;
  const paired = delimiter === COMMA && decimal === COMMA;
  let at = from;
  for (;;) {
    while (at < to && (bytes[at] === 32 || (bytes[at] === 9 && delimiter !== 9))) at++;
    let start = at;
    let stop: number;
    if (bytes[at] === QUOTE && at < to) {
      start = ++at;
      while (at < to && bytes[at] !== QUOTE) at++;
      stop = at;
      while (at < to && bytes[at] !== delimiter) at++;
    } else {
      while (at < to && bytes[at] !== delimiter) at++;
      // With the comma as both marks every second one ends a field.
      if (paired && at < to) for (at++; at < to && bytes[at] !== delimiter; ) at++;
      stop = at;
      while (stop > start && (bytes[stop - 1] === 32 || bytes[stop - 1] === 9)) stop--;
    }
    addField(fields, start, stop);
    if (at >= to) return;
    at++;
  }
}

/** Cuts a line of a table into fields. */
export function splitTableLine(
  bytes: Uint8Array,
  from: number,
  to: number,
  separation: Separation,
  fields: Fields,
): void {
  if (separation.delimiter === 32) splitBlank(bytes, from, to, fields);
  else splitAt(bytes, from, to, separation, fields);
}

/** Returns the fields of a line of text. */
export function tableWords(line: string, separation: Separation, fields: Fields): string[] {
  const bytes = new TextEncoder().encode(line);
  splitTableLine(bytes, 0, bytes.length, separation, fields);
  const decoder = new TextDecoder();
  return Array.from({ length: fields.count }, (_, i) => decoder.decode(bytes.subarray(fields.from[i], fields.to[i])));
}
