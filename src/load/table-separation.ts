import { type FormatInput, loadError } from './format.ts';
import type { Separation } from './table-fields.ts';

const COMMA = 44;
const POINT = 46;
const BLANK = 32;
const TAB = 9;
const SEMICOLON = 59;

const NUMBER_WITH_COMMA = /^[+-]?\d*,\d+(e[+-]?\d+)?$/i;
const NUMBER_WITH_POINT = /^[+-]?(\d+\.\d*|\.\d+)(e[+-]?\d+)?$/i;
const INTEGER = /^[+-]?\d+$/;

function unclear(input: FormatInput, line: string, first: string, second: string): Error {
  const message = `"${line.slice(0, 60)}" can be read two ways: ${first}, or ${second}.`;
  const remedy =
    'State the decimal mark (option decimal: "," or "."), or write the file with semicolons between the fields.';
  return loadError(input, 'load/decimal-mark-unclear', message, null, remedy);
}

/** Decimal mark of fields that are set apart by something else than a comma. */
function decimalOf(input: FormatInput, fields: string[]): number {
  if (input.options.decimal !== undefined) return input.options.decimal === ',' ? COMMA : POINT;
  const comma = fields.find((field) => NUMBER_WITH_COMMA.test(field));
  const point = fields.find((field) => NUMBER_WITH_POINT.test(field));
  if (comma !== undefined && point !== undefined) {
    const first = `the comma in "${comma}" as the decimal mark`;
    throw unclear(input, `${comma} … ${point}`, first, `the point in "${point}" as the decimal mark`);
  }
  return comma === undefined ? POINT : COMMA;
}

/** True when every line is digits with commas only and an even number of them could pair up to decimals. */
function pairsUp(lines: string[]): boolean {
  let count = 0;
  for (const line of lines) {
    const fields = line.split(',').map((field) => field.trim());
    if (count === 0) count = fields.length;
    if (fields.length !== count || count % 2 === 1) return false;
    if (!fields.every((field, i) => (i % 2 === 0 ? INTEGER : /^\d+$/).test(field))) return false;
  }
  return count === 2 || count >= 6;
}

function commaSeparated(input: FormatInput, lines: string[], hasHeader: boolean): Separation {
  const { decimal } = input.options;
  if (decimal === '.' || hasHeader || !pairsUp(lines)) return { delimiter: COMMA, decimal: POINT };
  if (decimal === ',') return { delimiter: COMMA, decimal: COMMA };
  const fields = lines[0].split(',').length;
  throw unclear(
    input,
    lines[0],
    `${fields} numbers between commas`,
    `${fields / 2} with the comma as the decimal mark`,
  );
}

/** True when more than half pass: one bad line must not change how the others are read. */
function most(lines: string[], pass: (line: string) => boolean): boolean {
  return lines.filter(pass).length * 2 > lines.length;
}

/** Pieces of a line between blanks; blanks beside a comma do not count. */
function pieces(line: string): string[] {
  return line
    .replace(/\s*,\s+|\s+,/g, ',')
    .trim()
    .split(/\s+/);
}

/**
 * Returns how the fields of a table are set apart and its decimal mark.
 *
 * @param lines the first lines that are not blank, comments or the header
 * @throws `load/decimal-mark-unclear` when the lines can be read two ways
 */
export function tableSeparation(input: FormatInput, lines: string[], header: string | null): Separation {
  const all = header === null ? lines : [header, ...lines];
  for (const [delimiter, mark] of [
    [SEMICOLON, ';'],
    [TAB, '\t'],
  ] as const) {
    if (!most(all, (line) => line.trim().includes(mark))) continue;
    const fields = lines.flatMap((line) => line.split(mark).map((field) => field.replace(/^\s*"?|"?\s*$/g, '')));
    return { delimiter, decimal: decimalOf(input, fields) };
  }
  const withComma = lines.filter((line) => line.includes(','));
  if (withComma.length === 0) return { delimiter: BLANK, decimal: decimalOf(input, []) };
  const parts = lines.flatMap(pieces);
  if (most(all, (line) => pieces(line).length > 1) && most(parts, (part) => part.split(',').length <= 2)) {
    return { delimiter: BLANK, decimal: decimalOf(input, parts) };
  }
  return commaSeparated(input, lines, header?.includes(',') ?? false);
}
