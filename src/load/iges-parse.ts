import { type FormatInput, loadError } from './format.ts';

/** One directory entry: kind of entity, its name, and where its parameters are. */
export interface IgesEntry {
  /** Number of its first line in the directory section. */
  number: number;
  type: number;
  label: string;
  /** First line of its parameters, from 1, and their count. */
  first: number;
  lines: number;
  /** Directory entry of the motion it is given in, 0 for none. */
  moved: number;
}

/** An IGES file taken apart; parameters are not read yet. */
export interface IgesFile {
  input: FormatInput;
  global: string[];
  entries: IgesEntry[];
  /** The parameter section's lines and the number of the file's line that the first stands in. */
  parameters: string[];
  parametersFrom: number;
  separators: [string, string];
}

const ORDER = 'SGDPT';
const EXPORT = 'Copy or export the file again.';
const RECORD = /^.{72}([SGDPT])\s*(\d+)\s*$/;
const MISSING = `${EXPORT} Its end is missing.`;

/**
 * Returns the sections of an IGES file in records of 80 columns (IGES 5.3, 2.2).
 * @throws `load/truncated` when the end record is missing or counts other lines than there are, `load/iges-record`
 */
export function parseIges(input: FormatInput, text: string): IgesFile {
  const sections: Record<string, string[]> = { S: [], G: [], D: [], P: [], T: [] };
  const lines = text.split(/\r\n|\n|\r/);
  let last = 0;
  let parametersFrom = 0;
  for (let i = 0; i < lines.length; i++) {
    if (sections.T.length > 0) {
      if (lines[i].trim() === '') continue;
      throw badRecord(input, i, 'stands after the end record');
    }
    const found = RECORD.exec(lines[i]);
    const kind = found === null ? -1 : ORDER.indexOf(found[1]);
    if (found === null || kind < last || Number(found[2]) !== sections[found[1]].length + 1) {
      if (lines.slice(i + 1).every((line) => line.trim() === '')) throw cutShort(input, i + 1);
      throw badRecord(input, i, found === null ? 'is no record of 80 columns' : 'is out of order');
    }
    const section = sections[found[1]];
    last = kind;
    if (found[1] === 'P' && section.length === 0) parametersFrom = i + 1;
    section.push(lines[i].slice(0, 72));
  }
  if (sections.T.length === 0) throw cutShort(input, lines.length);
  for (const [k, letter] of ['S', 'G', 'D', 'P'].entries()) {
    const field = sections.T[0].slice(8 * k, 8 * k + 8);
    const declared = field[0] === letter ? Number(field.slice(1)) : Number.NaN;
    if (declared !== sections[letter].length) {
      const message = `The end record says "${field.trim()}"; ${sections[letter].length} lines ${letter} were found.`;
      throw loadError(input, 'load/truncated', message, 'end record', MISSING);
    }
  }
  const { values, separators } = globalValues(input, sections.G.join(''));
  const entries: IgesEntry[] = [];
  const directoryFrom = sections.S.length + sections.G.length + 1;
  for (let d = 0; d < sections.D.length; d += 2) {
    entries.push(entryOf(input, sections.D[d], sections.D[d + 1] ?? '', d + 1, directoryFrom + d));
  }
  return { input, global: values, entries, parameters: sections.P, parametersFrom, separators };
}

function badRecord(input: FormatInput, index: number, what: string): Error {
  return loadError(input, 'load/iges-record', `Line ${index + 1} ${what}.`, `line ${index + 1}`, EXPORT);
}

function cutShort(input: FormatInput, line: number): Error {
  const message = `The file breaks off in line ${line}, without its end record.`;
  return loadError(input, 'load/truncated', message, `line ${line}`, MISSING);
}

function globalValues(input: FormatInput, text: string): { values: string[]; separators: [string, string] } {
  const comma = /^\s*1H(.)/.exec(text)?.[1] ?? ',';
  const after = text.trimStart().startsWith('1H') ? text.indexOf('1H') + 4 : text.indexOf(comma) + 1;
  const semicolon = /^\s*1H(.)/.exec(text.slice(after))?.[1] ?? ';';
  const separators: [string, string] = [comma, semicolon];
  const values = igesValues(text, separators);
  if (values === null) {
    throw loadError(input, 'load/iges-record', 'The global section has no end.', 'global section', EXPORT);
  }
  return { values, separators };
}

function entryOf(input: FormatInput, one: string, two: string, number: number, line: number): IgesEntry {
  const field = (text: string, k: number): number => Number(text.slice(8 * k, 8 * k + 8));
  const type = field(one, 0);
  const entry: IgesEntry = {
    number,
    type,
    label: two.slice(56, 64).trim(),
    first: field(one, 1),
    lines: field(two, 3),
    moved: field(one, 6),
  };
  const sound = [type, entry.first, entry.lines, entry.moved].every((value) => Number.isInteger(value) && value >= 0);
  if (sound && field(two, 0) === type) return entry;
  throw badRecord(input, line - 1, 'is no sound directory entry');
}

/**
 * Returns the values of a text of parameters, strings without their counts; null when it does not end. '' stands for a
 * value not given.
 */
export function igesValues(text: string, [comma, semicolon]: readonly [string, string]): string[] | null {
  const values: string[] = [];
  let at = 0;
  for (;;) {
    while (at < text.length && text[at] === ' ') at++;
    const held = /^(\d{1,6})H/.exec(text.slice(at, at + 7));
    let value: string;
    if (held !== null) {
      const from = at + held[0].length;
      const to = from + Number(held[1]);
      if (to > text.length) return null;
      value = text.slice(from, to);
      at = to;
      while (text[at] === ' ') at++;
      if (text[at] !== comma && text[at] !== semicolon) return null;
    } else {
      const from = at;
      while (at < text.length && text[at] !== comma && text[at] !== semicolon) at++;
      if (at === text.length) return null;
      value = text.slice(from, at).trim();
    }
    values.push(value);
    if (text[at++] === semicolon) return values;
  }
}
