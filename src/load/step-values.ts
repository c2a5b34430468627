import { loadError } from './format.ts';
import { lineOf, type StepFile, skipBlank } from './step-parse.ts';

/** A value of a STEP entity; null for one not given ($) or derived (*). */
export type StepValue = number | string | null | StepRef | StepWord | StepRecord | StepValue[];

interface StepRef {
  ref: number;
}

/** An enumeration value such as .T., without its points. */
interface StepWord {
  word: string;
}

/** A type with its values: an entity, a part of a complex entity, or a typed value. */
export interface StepRecord {
  type: string;
  values: StepValue[];
}

const DEEPEST = 32;
const NUMBER = /[+-]?\d+(?:\.\d*)?(?:[Ee][+-]?\d+)?/y;
const WORD = /\.([A-Za-z0-9_]+)\./y;
const NOT_A_NUMBER = /^(nan|inf|infinity)\b/i;
const EXPORT = 'Copy or export the file again.';

/** The place of an entity in words. */
export function entityPlace(file: StepFile, id: number): string {
  const place = file.entities.get(id);
  return place === undefined ? `#${id}` : `#${id}, line ${lineOf(file.text, place.from)}`;
}

/**
 * Returns an entity: one record, or the parts of a complex one.
 * @param from the entity that refers to it, for the error
 * @throws `load/step-reference` when there is no such entity; `load/step-syntax`, `load/not-a-number`
 */
export function stepEntity(file: StepFile, id: number, from?: number): StepRecord[] {
  const place = file.entities.get(id);
  if (place === undefined) {
    const where = from === undefined ? null : entityPlace(file, from);
    const message = `Entity #${id} is referred to and not in the file.`;
    throw loadError(file.input, 'load/step-reference', message, where, EXPORT);
  }
  const { text } = file;
  let at = place.from;

  function fail(): Error {
    const shown = text.slice(at, Math.min(place!.to, at + 24));
    const message = `Entity #${id} cannot be read at "${shown}".`;
    return loadError(file.input, 'load/step-syntax', message, `line ${lineOf(text, at)}`, EXPORT);
  }

  function take(pattern: RegExp): string | null {
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (found === null || pattern.lastIndex > place!.to) return null;
    at = pattern.lastIndex;
    return found[1] ?? found[0];
  }

  /** Passes a bracketed list of items, which each call of `item` reads. */
  function list(item: () => void, separated: boolean): void {
    if (text[at] !== '(') throw fail();
    at = skipBlank(text, at + 1);
    for (let first = true; text[at] !== ')'; first = false) {
      if (separated && !first) {
        if (text[at] !== ',') throw fail();
        at = skipBlank(text, at + 1);
      }
      if (at >= place!.to) throw fail();
      item();
      at = skipBlank(text, at);
    }
    at++;
  }

  function record(depth: number): StepRecord {
    const type = take(/[A-Za-z_!][A-Za-z0-9_]*/y);
    if (type === null) throw fail();
    at = skipBlank(text, at);
    const values: StepValue[] = [];
    list(() => values.push(value(depth + 1)), true);
    return { type: type.toUpperCase(), values };
  }

  function number(): number {
    const start = at;
    const found = take(NUMBER);
    const result = found === null ? Number.NaN : Number(found);
    if (Number.isFinite(result) && text[at] !== '#') return result;
    at = start;
    throw notANumber();
  }

  function notANumber(): Error {
    const shown = text.slice(at, Math.min(place!.to, at + 16)).split(/[,)]/)[0];
    const message = `Entity #${id} holds "${shown}" where a number was expected.`;
    const remedy = 'Check the shape and export the file again.';
    return loadError(file.input, 'load/not-a-number', message, `line ${lineOf(text, at)}`, remedy);
  }

  function value(depth: number): StepValue {
    if (depth > DEEPEST) throw fail();
    const c = text[at];
    if ((c >= '0' && c <= '9') || c === '-' || c === '+') return number();
    if (c === '#') {
      const ref = take(/#(\d+)/y);
      if (ref === null) throw fail();
      return { ref: Number(ref) };
    }
    if (c === '(') {
      const values: StepValue[] = [];
      list(() => values.push(value(depth + 1)), true);
      return values;
    }
    if (c === "'") return string();
    if (c === '.') {
      const word = take(WORD);
      if (word === null) throw fail();
      return { word: word.toUpperCase() };
    }
    if (c === '$' || c === '*') {
      at++;
      return null;
    }
    if (c === '"') {
      const binary = take(/"[0-9A-Fa-f]*"/y);
      if (binary === null) throw fail();
      return binary;
    }
    if (NOT_A_NUMBER.test(text.slice(at, at + 12))) throw notANumber();
    return record(depth);
  }

  function string(): string {
    const raw = take(/'(?:[^']|'')*'/y);
    if (raw === null) throw fail();
    return decoded(raw.slice(1, -1).replaceAll("''", "'"));
  }

  const records: StepRecord[] = [];
  if (place.type !== '') records.push(record(0));
  else list(() => records.push(record(1)), false);
  if (skipBlank(text, at) !== place.to) throw fail();
  return records;
}

/** Text with the control directives of ISO 10303-21 (\X2\, \X4\, \X\, \S\, \P.\) resolved. */
function decoded(text: string): string {
  if (!text.includes('\\')) return text;
  return text.replace(
    /\\\\|\\X2\\((?:[0-9A-F]{4})+)\\X0\\|\\X4\\((?:[0-9A-F]{8})+)\\X0\\|\\X\\([0-9A-F]{2})|\\S\\(.)|\\P[A-I]\\/g,
    (all, wide?: string, widest?: string, byte?: string, high?: string) => {
      if (wide !== undefined) return codes(wide, 4, (code) => String.fromCharCode(code));
      if (widest !== undefined) return codes(widest, 8, (code) => (code > 0x10ffff ? '?' : String.fromCodePoint(code)));
      if (byte !== undefined) return String.fromCharCode(Number.parseInt(byte, 16));
      if (high !== undefined) return String.fromCharCode(high.charCodeAt(0) + 128);
      return all === '\\\\' ? '\\' : '';
    },
  );
}

function codes(digits: string, size: number, one: (code: number) => string): string {
  let text = '';
  for (let i = 0; i < digits.length; i += size) text += one(Number.parseInt(digits.slice(i, i + size), 16));
  return text;
}
