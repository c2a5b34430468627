import type { Cloud, SectionTable } from '../model/shape.ts';
import { addPoint, cloudBuilder, finishCloud } from './cloud-builder.ts';
import { notANumber } from './fields.ts';
import { type FormatInput, loadError, warn } from './format.ts';
import { parseNumber } from './numbers.ts';
import { addRow, beginAnew, finishSections, type RawSection, rawSection } from './section-builder.ts';
import { type DoubleStore, doubleStore, indexStore, push3, reserve } from './stores.ts';

const LEAST_ROWS = 8;

/** Rows of four values without header: a label that may be a section name, and three numbers. */
export interface GroupRows {
  add(label: string, a: number, b: number, c: number, line: number): void;
  end(): SectionTable | Cloud;
}

interface Group {
  label: string;
  line: number;
  rows: number;
  /** The first row's values and whether the whole group shares them. */
  first: [number, number, number];
  same: [boolean, boolean, boolean];
}

/** Column (0 to 2) that holds the heights; −1 when the rows are no sections. */
function heightColumn(groups: Group[], numeric: boolean): number {
  const constant = [0, 1, 2].filter((k) => groups.every((group) => group.same[k]));
  if (!numeric) return constant[0] ?? -1;
  if (groups.some((group) => group.rows < LEAST_ROWS)) return -1;
  if (groups.length === 1) return constant[0] === 0 ? 0 : -1;
  return constant.find((k) => groups.some((group) => group.first[k] !== groups[0].first[k])) ?? -1;
}

/** Returns an empty store for such rows; what they are is decided when all are known. */
export function groupRows(input: FormatInput, decimal: number): GroupRows {
  const groups: Group[] = [];
  const numberOf = new Map<string, number>();
  const values: DoubleStore = doubleStore(3072);
  const groupOf = indexStore(1024);
  const lines = indexStore(1024);

  function add(label: string, a: number, b: number, c: number, line: number): void {
    let at = numberOf.get(label);
    if (at === undefined) {
      at = groups.length;
      numberOf.set(label, at);
      groups.push({ label, line, rows: 0, first: [a, b, c], same: [true, true, true] });
    }
    const group = groups[at];
    group.rows++;
    if (a !== group.first[0]) group.same[0] = false;
    if (b !== group.first[1]) group.same[1] = false;
    if (c !== group.first[2]) group.same[2] = false;
    push3(values, a, b, c, input);
    for (const [store, value] of [
      [groupOf, at],
      [lines, line],
    ] as const) {
      reserve(store, 1, input);
      store.data[store.length++] = value;
    }
  }

  function sections(height: number): SectionTable {
    const [x, y] = [0, 1, 2].filter((k) => k !== height);
    const raw: RawSection[] = groups.map((group) => rawSection(group.label, group.first[height], group.line));
    const { data } = values;
    for (let i = 0; i < groupOf.length; i++) {
      const at = 3 * i;
      if (data[at] - data[at] + (data[at + 1] - data[at + 1]) + (data[at + 2] - data[at + 2]) !== 0) {
        throw notANumber(input, 'a value that is not finite', lines.data[i], 2);
      }
      if (i > 0 && groupOf.data[i] !== groupOf.data[i - 1]) beginAnew(raw[groupOf.data[i]]);
      addRow(raw[groupOf.data[i]], data[at + x], data[at + y], data[at + height], input);
    }
    return finishSections(input, raw);
  }

  /** Points whose label is a running number or name of their own. */
  function numberedPoints(): Cloud {
    const builder = cloudBuilder(input, groupOf.length, false);
    for (let i = 0; i < groupOf.length; i++) {
      addPoint(builder, values.data[3 * i], values.data[3 * i + 1], values.data[3 * i + 2], lines.data[i]);
    }
    const message = 'The first column numbers or names the points; columns 2 to 4 are read as x, y, z.';
    warn(input, 'load/point-names', message, null, 'Name the columns in a header line if they mean something else.');
    return finishCloud(builder, 'line');
  }

  function cloud(): Cloud {
    const encoder = new TextEncoder();
    const numbers = groups.map(({ label, line }) => {
      const bytes = encoder.encode(label);
      const value = parseNumber(bytes, 0, bytes.length, decimal);
      if (Number.isNaN(value)) throw notANumber(input, label, line, 1);
      return value;
    });
    const builder = cloudBuilder(input, groupOf.length, false);
    for (let i = 0; i < groupOf.length; i++) {
      addPoint(builder, numbers[groupOf.data[i]], values.data[3 * i], values.data[3 * i + 1], lines.data[i]);
    }
    const message = 'The rows have 4 columns; the first 3 are read as x, y, z, column 4 is not used.';
    warn(input, 'load/extra-columns', message, null, 'Name the columns in a header line if they mean something else.');
    return finishCloud(builder, 'line');
  }

  function end(): SectionTable | Cloud {
    const numeric = groups.every(({ label }) => /^[+-]?\d+([.,]\d*)?$/.test(label));
    const single = groups.length > 1 && groups.length === groupOf.length;
    if (single && groups.every(({ label }, i) => !numeric || Number(label) === Number(groups[0].label) + i)) {
      return numberedPoints();
    }
    const height = heightColumn(groups, numeric);
    if (height >= 0) return sections(height);
    if (numeric) return cloud();
    const message = 'No column holds one height for every section.';
    const remedy = 'Name the columns in a header line, such as section,z,x,y.';
    throw loadError(input, 'load/format-unknown', message, null, remedy);
  }

  return { add, end };
}
