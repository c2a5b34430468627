import { type FormatInput, loadError } from './format.ts';

/** An entity's place in the text: its type ('' for a complex one) and its value from `from` to before `to`. */
interface StepPlace {
  type: string;
  from: number;
  to: number;
}

/** A STEP file taken apart into its entities, whose values are not read yet. */
export interface StepFile {
  input: FormatInput;
  text: string;
  entities: Map<number, StepPlace>;
}

const PLAIN = /[^;'/]*/y;
const NAME = /#(\d+)\s*=\s*/y;
const TYPE = /[A-Za-z_][A-Za-z0-9_]*/y;
const END = 'END-ISO-10303-21';
const EXPORT = 'Copy or export the file again.';

/** Number of the line, from 1, that a place of the text is in. */
export function lineOf(text: string, at: number): number {
  let line = 1;
  for (let i = text.indexOf('\n'); i >= 0 && i < at; i = text.indexOf('\n', i + 1)) line++;
  return line;
}

/** Returns the place after blanks and comments. A comment without an end reaches to the end of the text. */
export function skipBlank(text: string, at: number): number {
  for (;;) {
    while (at < text.length && text.charCodeAt(at) <= 32) at++;
    if (!text.startsWith('/*', at)) return at;
    const end = text.indexOf('*/', at + 2);
    if (end < 0) return text.length;
    at = end + 2;
  }
}

/** Returns the place of the semicolon that ends a statement, −1 when there is none; strings and comments are passed. */
function statementEnd(text: string, at: number): number {
  for (;;) {
    PLAIN.lastIndex = at;
    PLAIN.test(text);
    at = PLAIN.lastIndex;
    if (at >= text.length) return -1;
    if (text[at] === ';') return at;
    const comment = text.startsWith('/*', at);
    if (text[at] === '/' && !comment) at++;
    else {
      const close = comment ? text.indexOf('*/', at + 2) : text.indexOf("'", at + 1);
      if (close < 0) return -1;
      at = close + (comment ? 2 : 1);
    }
  }
}

/**
 * Returns the entities of a STEP file (ISO 10303-21 text, any number of data sections).
 * @throws `load/truncated` without the end mark, `load/step-syntax`
 */
export function parseStep(input: FormatInput, text: string): StepFile {
  const entities = new Map<number, StepPlace>();
  let section: 'outside' | 'header' | 'data' | 'other' = 'outside';
  for (let at = skipBlank(text, 0); ; at = skipBlank(text, at)) {
    const end = statementEnd(text, at);
    if (end < 0) {
      const line = lineOf(text, text.length);
      const message = `The file breaks off in line ${line} after ${entities.size} entities, without its end mark ${END}.`;
      throw loadError(input, 'load/truncated', message, `line ${line}`, `${EXPORT} Its end is missing.`);
    }
    const first = text[at];
    if (section === 'data' && first === '#') addEntity(input, text, at, end, entities);
    else if (section !== 'header' || first === 'E') {
      const word = text.slice(at, Math.min(end, at + 40)).trim();
      if (word === END) return { input, text, entities };
      if (word === 'ENDSEC') section = 'outside';
      else if (section === 'outside' && word === 'HEADER') section = 'header';
      else if (section === 'outside' && /^DATA\b/.test(word)) section = 'data';
      else if (section === 'outside' && /^[A-Z]+$/.test(word)) section = 'other';
      else if (section === 'data' || (section === 'outside' && word !== 'ISO-10303-21')) {
        const message = `"${word}" stands where an entity or the end of the section was expected.`;
        throw loadError(input, 'load/step-syntax', message, `line ${lineOf(text, at)}`, EXPORT);
      }
    }
    at = end + 1;
  }
}

function addEntity(input: FormatInput, text: string, at: number, end: number, entities: Map<number, StepPlace>): void {
  NAME.lastIndex = at;
  const found = NAME.exec(text);
  const place = (): string => `line ${lineOf(text, at)}`;
  if (found === null) {
    const message = `"${text.slice(at, Math.min(end, at + 20))}" is no entity; #number = value was expected.`;
    throw loadError(input, 'load/step-syntax', message, place(), EXPORT);
  }
  const id = Number(found[1]);
  if (entities.has(id)) {
    throw loadError(input, 'load/step-syntax', `Entity #${id} is given twice.`, place(), EXPORT);
  }
  const from = skipBlank(text, NAME.lastIndex);
  TYPE.lastIndex = from;
  entities.set(id, { type: TYPE.exec(text)?.[0].toUpperCase() ?? '', from, to: end });
}
