import { createFields } from './fields.ts';
import { type FormatInput, loadError } from './format.ts';
import { noteProbeText, type ProbeNote } from './probe-note.ts';
import { headLines } from './sniff.ts';
import { type Separation, tableWords } from './table-fields.ts';
import { type Columns, headerColumns, joinUnits, unknownHeader } from './table-header.ts';
import { tableSeparation } from './table-separation.ts';
import { noteUnitText, type UnitNote } from './units.ts';

/** How a text table is to be read. */
export interface TableLayout {
  separation: Separation;
  /** Fields in a row. */
  width: number;
  columns: Columns;
  /** What the rows may be: sections by name, four columns with a group in the first, points, or points with levels. */
  kind: 'sections' | 'groups' | 'levels' | 'points';
  /** Line of the first row. */
  firstRow: number;
  /** Rows declared by a count on the first line; null without one. */
  declared: number | null;
  unit: UnitNote;
  probe: ProbeNote;
}

const NUMERIC = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i;
const NON_FINITE = /^[+-]?(nan|inf|infinity)$/i;

export function isNumeric(word: string): boolean {
  return NUMERIC.test(word) || NON_FINITE.test(word);
}

/** True for a line that starts with `#`, `//` or `%`. */
export function isComment(line: string): boolean {
  return /^\s*(#|\/\/|%)/.test(line);
}

/** True for a line that only states the unit, such as `unit: inch`. */
export function isUnitLine(line: string): boolean {
  return /^\s*"?units?"?\s*[:=;,\s]\s*"?[a-zµμ]+"?\s*$/i.test(line);
}

/** Takes down what a comment or a unit line says of the unit and of probed points. */
export function noteComment(input: FormatInput, unit: UnitNote, probe: ProbeNote, line: string, place: string): void {
  const text = line.replace(/^\s*[#/%]+/, '');
  noteUnitText(input, unit, text, place);
  noteProbeText(input, probe, text, place);
}

/** Words of a line whatever its separation: cut at blanks, tabs, commas and semicolons. */
function roughWords(line: string): string[] {
  return line.split(/[\s,;"]+/).filter((word) => word !== '');
}

/** True when no word but a label in front is a number: the line names columns. */
function isHeader(line: string): boolean {
  return roughWords(line).every((word) => !isNumeric(word));
}

function unitNormals(rows: string[][], decimal: number): boolean {
  return rows.every((row) => {
    const [a, b, c] = row.slice(3, 6).map((word) => Number(decimal === 44 ? word.replace(',', '.') : word));
    return Math.abs(Math.hypot(a, b, c) - 1) < 0.01;
  });
}

function positional(rows: string[][], width: number, decimal: number): Pick<TableLayout, 'columns' | 'kind'> {
  const columns: Columns = { id: -1, x: 0, y: 1, z: 2, normal: null, pass: -1, namesHeight: false, extra: [] };
  if (width === 3) return { columns, kind: 'levels' };
  if (width === 4 && rows.every((row) => !isNumeric(row[0]) || /^\+?\d+$/.test(row[0]))) {
    return { columns: { ...columns, id: 0, x: 1, y: 2, z: 3 }, kind: 'groups' };
  }
  const withNormals = width >= 6 && unitNormals(rows, decimal);
  if (withNormals) columns.normal = [3, 4, 5];
  const used = withNormals ? 6 : 3;
  columns.extra = Array.from({ length: width - used }, (_, i) => String(used + i + 1));
  return { columns, kind: 'points' };
}

function named(columns: Columns): TableLayout['kind'] {
  if (columns.id >= 0 || columns.namesHeight) return 'sections';
  return columns.normal === null && columns.extra.length === 0 ? 'levels' : 'points';
}

/**
 * Returns how to read a text table, found in its first lines.
 *
 * @throws `load/no-points`, `load/format-unknown`, `load/decimal-mark-unclear`, `load/unit-unknown`,
 *   `load/unit-conflict`
 */
export function tableLayout(input: FormatInput): TableLayout {
  const lines = headLines(input.head, input.complete);
  const unit: UnitNote = { unit: null };
  const probe: ProbeNote = { points: null, tipRadius: null, tipUnit: null };
  const fields = createFields();
  let at = 0;
  let comment = -1;
  for (; at < lines.length; at++) {
    if (lines[at].trim() === '') continue;
    if (!isComment(lines[at]) && !isUnitLine(lines[at])) break;
    comment = at;
    noteComment(input, unit, probe, lines[at], `line ${at + 1}`);
  }
  const isRow = (line: string): boolean => line.trim() !== '' && !isComment(line) && !isUnitLine(line);
  let declared: number | null = null;
  if (/^\s*\d+\s*$/.test(lines[at] ?? '') && roughWords(lines.slice(at + 1).find(isRow) ?? '').length >= 3) {
    declared = Number(lines[at++]);
  }
  let headerAt = at < lines.length && isHeader(lines[at]) ? at++ : -1;
  const rows = lines.slice(at).filter(isRow);
  if (rows.length === 0) {
    throw loadError(input, 'load/no-points', 'The file holds no rows of numbers.', null, 'Choose a file with points.');
  }
  const header = headerAt < 0 ? null : lines[headerAt];
  const separation = tableSeparation(input, rows, header);
  const words = rows.map((row) => tableWords(row, separation, fields));
  const base = { separation, firstRow: at + 1, declared, unit, probe };
  const width = words[0].at(-1) === '' ? words[0].length - 1 : words[0].length;
  if (headerAt < 0 && comment >= 0) {
    const text = lines[comment].replace(/^\s*[#/%]+/, '');
    const cells = roughWords(text);
    if (cells.length === width && !cells.some(isNumeric)) headerAt = comment;
  }
  if (headerAt >= 0) {
    const text = lines[headerAt].replace(/^\s*[#/%]+/, '');
    const cells = joinUnits(tableWords(text, separation, fields)).filter((cell, i) => cell !== '' || i < width);
    const columns = headerColumns(input, cells, unit, headerAt + 1);
    if (columns !== null) return { ...base, width: cells.length, columns, kind: named(columns) };
    if (header !== null) throw unknownHeader(input, cells, headerAt + 1);
  }
  if (width < 3) {
    const message = `A row has ${width} ${width === 1 ? 'value' : 'values'}; at least x, y and z are needed.`;
    throw loadError(
      input,
      'load/format-unknown',
      message,
      `line ${at + 1}`,
      'Write the rows as section,z,x,y or x y z.',
    );
  }
  const whole = words.filter((row) => row.length >= width);
  return { ...base, width, ...positional(whole, width, separation.decimal) };
}
