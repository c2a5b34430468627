import { type FormatInput, loadError } from './format.ts';
import { isNonFiniteText, parseNumber, textOf } from './numbers.ts';

/** Where the fields of a line begin and end. */
export interface Fields {
  count: number;
  from: Int32Array;
  to: Int32Array;
}

export function createFields(): Fields {
  return { count: 0, from: new Int32Array(64), to: new Int32Array(64) };
}

/** Adds one field, widening the arrays when full. */
export function addField(fields: Fields, from: number, to: number): void {
  if (fields.count === fields.from.length) {
    for (const key of ['from', 'to'] as const) {
      const wider = new Int32Array(2 * fields.count);
      wider.set(fields[key]);
      fields[key] = wider;
    }
  }
  fields.from[fields.count] = from;
  fields.to[fields.count++] = to;
}

/** Cuts a line at runs of blanks and tabs. */
export function splitBlank(bytes: Uint8Array, from: number, to: number, fields: Fields): void {
  fields.count = 0;
  let at = from;
  for (;;) {
    while (at < to && (bytes[at] === 32 || bytes[at] === 9)) at++;
    if (at === to) return;
    const start = at;
    while (at < to && bytes[at] !== 32 && bytes[at] !== 9) at++;
    addField(fields, start, at);
  }
}

/** True when field 0 is the given lower-case word, in any case. */
export function firstIs(bytes: Uint8Array, fields: Fields, word: string, field = 0): boolean {
  const from = fields.from[field];
  if (field >= fields.count || fields.to[field] - from !== word.length) return false;
  for (let i = 0; i < word.length; i++) if ((bytes[from + i] | 32) !== word.charCodeAt(i)) return false;
  return true;
}

/** Returns the error for a field that is no number. */
export function notANumber(input: FormatInput, text: string, line: number, column: number): Error {
  const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  const message = shown === '' ? 'A number is missing.' : `"${shown}" is not a number.`;
  const remedy = 'Correct the value or take the line out.';
  return loadError(input, 'load/not-a-number', message, `line ${line}, column ${column}`, remedy);
}

/**
 * Returns the number in a field; NaN or ±Infinity where the text says so.
 *
 * @throws `load/not-a-number` for any other text
 */
export function fieldNumber(
  input: FormatInput,
  bytes: Uint8Array,
  fields: Fields,
  field: number,
  line: number,
  decimal = 46,
): number {
  const from = fields.from[field];
  const to = fields.to[field];
  const value = parseNumber(bytes, from, to, decimal);
  if (!Number.isNaN(value) || isNonFiniteText(bytes, from, to)) return value;
  throw notANumber(input, textOf(bytes, from, to), line, field + 1);
}
