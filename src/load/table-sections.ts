import type { Fields } from './fields.ts';
import { fieldNumber, notANumber } from './fields.ts';
import type { FormatInput } from './format.ts';
import { textOf } from './numbers.ts';
import { addRow, beginAnew, type RawSection, rawSection } from './section-builder.ts';
import { push3 } from './stores.ts';
import type { TableLayout } from './table-layout.ts';

/** Rows of a table whose header names sections or heights. */
export interface SectionRows {
  sections: RawSection[];
  add(bytes: Uint8Array, fields: Fields, line: number): void;
}

/** Returns an empty store: rows go to the section of their name, or of their height where there are no names. */
export function sectionRows(input: FormatInput, layout: TableLayout): SectionRows {
  const { columns, separation } = layout;
  const sections: RawSection[] = [];
  const byName = new Map<string | number, RawSection>();
  const { normal, pass } = columns;
  let last: RawSection | null = null;

  function finite(bytes: Uint8Array, fields: Fields, column: number, line: number): number {
    const value = fieldNumber(input, bytes, fields, column, line, separation.decimal);
    if (value - value === 0) return value;
    throw notANumber(input, textOf(bytes, fields.from[column], fields.to[column]), line, column + 1);
  }

  function add(bytes: Uint8Array, fields: Fields, line: number): void {
    const height = finite(bytes, fields, columns.z, line);
    const x = finite(bytes, fields, columns.x, line);
    const y = finite(bytes, fields, columns.y, line);
    const name = columns.id < 0 ? height : textOf(bytes, fields.from[columns.id], fields.to[columns.id]);
    let section = byName.get(name);
    if (section === undefined) {
      section = rawSection(columns.id < 0 ? `s${sections.length + 1}` : String(name), height, line);
      byName.set(name, section);
      sections.push(section);
    }
    const passName = pass < 0 ? '' : textOf(bytes, fields.from[pass], fields.to[pass]);
    if (passName !== section.pass || section !== last) beginAnew(section, passName);
    last = section;
    if (!addRow(section, x, y, height, input) || normal === null) return;
    const [i, j, k] = normal.map((column) => finite(bytes, fields, column, line));
    push3(section.vectors, i, j, k, input);
  }

  return { sections, add };
}
