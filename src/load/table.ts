import type { Shape } from '../model/shape.ts';
import { addPoint, cloudBuilder, finishCloud } from './cloud-builder.ts';
import { checkDeclared } from './declared-size.ts';
import { createFields, type Fields, fieldNumber } from './fields.ts';
import { type ByteSink, type Format, type FormatInput, loadError, type ParsedShape, warn } from './format.ts';
import { lineFeeder } from './lines.ts';
import { textOf } from './numbers.ts';
import { finishSections } from './section-builder.ts';
import { headLines, looksLikeText } from './sniff.ts';
import { push3 } from './stores.ts';
import { splitTableLine } from './table-fields.ts';
import { groupRows } from './table-groups.ts';
import { isComment, isNumeric, isUnitLine, noteComment, type TableLayout, tableLayout } from './table-layout.ts';
import { sectionsOfLevels } from './table-levels.ts';
import { sectionRows } from './table-sections.ts';

/** Takes the rows of one kind of table and makes its shape. */
interface RowTaker {
  add(bytes: Uint8Array, fields: Fields, line: number): void;
  end(): Shape;
}

function sniff(head: Uint8Array): boolean {
  if (!looksLikeText(head)) return false;
  const rows = headLines(head, true).filter((line) => line.trim() !== '' && !isComment(line) && !isUnitLine(line));
  if (rows.length === 0) return true;
  if (/^\s*"?[\w ]+"?\s*([[(][^\])]*[\])])?(\s*[,;\t]|\s+[a-z])/i.test(rows[0]) && rows.length === 1) return true;
  return rows.slice(0, 3).some((line) => line.split(/[\s,;"]+/).filter(isNumeric).length >= 2);
}

function takeSections(input: FormatInput, layout: TableLayout): RowTaker {
  const { sections, add } = sectionRows(input, layout);

  function end(): Shape {
    if (sections.length < 2 || layout.columns.id < 0 || sections.some(({ rows }) => rows > 1)) {
      return finishSections(input, sections);
    }
    const builder = cloudBuilder(input, sections.length, false);
    for (const { points, first, line } of sections) addPoint(builder, points.data[0], points.data[1], first, line);
    const message = 'Every row has a name of its own; the rows are read as points x, y, z.';
    warn(input, 'load/point-names', message, null, 'Give all rows of a section the same name if they are sections.');
    return finishCloud(builder, 'line');
  }

  return { add, end };
}

function takeGroups(input: FormatInput, { separation: { decimal } }: TableLayout): RowTaker {
  const { add, end } = groupRows(input, decimal);
  return {
    add: (bytes, fields, line) => {
      const number = (k: number): number => fieldNumber(input, bytes, fields, k, line, decimal);
      add(textOf(bytes, fields.from[0], fields.to[0]), number(1), number(2), number(3), line);
    },
    end,
  };
}

function takePoints(input: FormatInput, layout: TableLayout): RowTaker {
  const { columns, separation } = layout;
  const { decimal } = separation;
  const { x, y, z, normal, extra } = columns;
  const builder = cloudBuilder(input, 1024, normal !== null);

  function add(bytes: Uint8Array, fields: Fields, line: number): void {
    const px = fieldNumber(input, bytes, fields, x, line, decimal);
    const py = fieldNumber(input, bytes, fields, y, line, decimal);
    const pz = fieldNumber(input, bytes, fields, z, line, decimal);
    if (!addPoint(builder, px, py, pz, line) || normal === null || builder.normals === null) return;
    const a = fieldNumber(input, bytes, fields, normal[0], line, decimal);
    const b = fieldNumber(input, bytes, fields, normal[1], line, decimal);
    push3(builder.normals, a, b, fieldNumber(input, bytes, fields, normal[2], line, decimal), input);
  }

  function end(): Shape {
    const sections = layout.kind === 'levels' ? sectionsOfLevels(input, builder) : null;
    if (sections !== null) return sections;
    if (extra.length > 0) {
      const message = `The columns ${extra.join(', ').slice(0, 120)} are not used; x, y and z are read.`;
      warn(
        input,
        'load/extra-columns',
        message,
        null,
        'Name the columns in a header line if they mean something else.',
      );
    }
    return finishCloud(builder, 'line');
  }

  return { add, end };
}

function parse(input: FormatInput): ByteSink {
  const layout = tableLayout(input);
  const { separation, width, declared } = layout;
  if (declared !== null) checkDeclared(input, declared, 'rows', 2 * width * declared - 1, 'line 1');
  const takers = { sections: takeSections, groups: takeGroups, levels: takePoints, points: takePoints };
  const taker = takers[layout.kind](input, layout);
  const fields = createFields();
  let rows = 0;
  let ended = false;

  function note(bytes: Uint8Array, from: number, to: number, line: number): void {
    noteComment(input, layout.unit, layout.probe, textOf(bytes, from, to), `line ${line}`);
  }

  const feeder = lineFeeder(input, (bytes, from, to, line) => {
    if (line < layout.firstRow) return;
    while (from < to && (bytes[from] <= 32 || bytes[from] === 26)) {
      if (bytes[from] === separation.delimiter && separation.delimiter === 9) break;
      from++;
    }
    if (from === to) return;
    const c = bytes[from];
    if (c === 35 || c === 37 || (c === 47 && bytes[from + 1] === 47)) {
      note(bytes, from, to, line);
      return;
    }
    splitTableLine(bytes, from, to, separation, fields);
    const last = fields.count - 1;
    if (last === width && fields.from[last] === fields.to[last]) fields.count--;
    if (ended && fields.count < width) {
      const message = `The last line breaks off: it has ${fields.count} of ${width} columns after ${rows} whole rows.`;
      const remedy = 'Copy or export the file again; its end is missing.';
      throw loadError(input, 'load/truncated', message, `line ${line}`, remedy);
    }
    if (fields.count !== width) {
      if (isUnitLine(textOf(bytes, from, Math.min(to, from + 60)))) {
        note(bytes, from, to, line);
        return;
      }
      const message = `The line has ${fields.count} columns; ${width} were expected.`;
      const remedy = 'Correct the line, or take it out.';
      throw loadError(input, 'load/column-count', message, `line ${line}`, remedy);
    }
    rows++;
    taker.add(bytes, fields, line);
  });

  function end(): ParsedShape {
    ended = true;
    feeder.end();
    if (declared !== null && rows < declared) {
      const message = `The first line declares ${declared} rows; ${rows} were found.`;
      const remedy = 'Copy or export the file again; its end is missing.';
      throw loadError(input, 'load/truncated', message, 'end of file', remedy);
    }
    return { shape: taker.end(), unit: layout.unit.unit, points: rows, triangles: 0, probe: layout.probe };
  }

  return { push: feeder.push, end };
}

export const table: Format = {
  id: 'table',
  words: 'section table or points as text (.csv, .txt, .xyz)',
  sniff,
  parse,
};
