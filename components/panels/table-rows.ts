import type { Characteristic, Results } from '../../src/model/results.ts';
import { formatU, unitText } from '../../src/report/format-number.ts';
import { type DecimalMark, showResult } from '../controls/format.ts';
import { VERDICT_WORDS } from '../controls/words.ts';

export type Filter = 'all' | 'not-passing' | 'not-measured';

export interface Column {
  id: string;
  head: string;
  numeric: boolean;
}

export const COLUMNS: Column[] = [
  { id: 'number', head: 'no.', numeric: true },
  { id: 'name', head: 'what', numeric: false },
  { id: 'place', head: 'place', numeric: false },
  { id: 'requirement', head: 'requirement', numeric: true },
  { id: 'result', head: 'result', numeric: true },
  { id: 'deviation', head: 'from nominal', numeric: true },
  { id: 'u', head: 'U (k = 2)', numeric: true },
  { id: 'unit', head: 'unit', numeric: false },
  { id: 'verdict', head: 'verdict', numeric: false },
];

/** Rows a filter keeps. */
export function filteredRows(rows: readonly Characteristic[], filter: Filter): Characteristic[] {
  if (filter === 'not-measured') return rows.filter((r) => r.verdict === 'not-measured');
  if (filter === 'not-passing')
    return rows.filter((r) => r.verdict === 'fail' || r.verdict === 'not-proven' || r.verdict === 'not-measured');
  return [...rows];
}

/** Limits as text: "0.20 to 0.30", "at least 0.20", "at most 0.30", or the nominal alone. */
export function requirementText(row: Characteristic, mark: DecimalMark): string {
  const { lower, upper, nominal, unit } = row.requirement;
  const text = (value: number): string => showResult(value, { unit }, mark);
  if (lower !== null && upper !== null) return `${text(lower)} to ${text(upper)}`;
  if (lower !== null) return `at least ${text(lower)}`;
  if (upper !== null) return `at most ${text(upper)}`;
  return nominal === null ? '–' : `${text(nominal)}, no limit`;
}

/** Text of one cell as shown. */
export function cellText(row: Characteristic, column: string, results: Results, mark: DecimalMark): string {
  const { lower, upper, unit } = row.requirement;
  const style = { unit, u: row.u, limits: [lower, upper] };
  switch (column) {
    case 'number':
      return String(row.number);
    case 'name':
      return row.name;
    case 'place': {
      const section = results.sections.find((s) => s.id === row.section);
      return section ? `${section.id} at ${showResult(section.height, { unit: 'mm2' }, mark)} mm` : 'whole part';
    }
    case 'requirement':
      return requirementText(row, mark);
    case 'result':
      return showResult(row.value, style, mark);
    case 'deviation':
      return showResult(row.deviation, { ...style, signed: true }, mark);
    case 'u':
      return formatU(row.u).replace('.', mark);
    case 'unit':
      return unitText(unit);
    default:
      return VERDICT_WORDS[row.verdict];
  }
}

/** Rows as tab-separated text with head, for the clipboard: ASCII minus and a decimal point. */
export function copyText(rows: readonly Characteristic[], results: Results): string {
  const lines = rows.map((row) =>
    COLUMNS.map((c) => cellText(row, c.id, results, '.').replace('−', '-').replace('–', '')).join('\t'),
  );
  return [COLUMNS.map((c) => c.head).join('\t'), ...lines].join('\n');
}

/** Cell reached from (row, column) by a grid key; null for other keys. */
export function gridMove(
  key: string,
  control: boolean,
  at: { row: number; column: number },
  rows: number,
  columns: number,
): { row: number; column: number } | null {
  const held = (row: number, column: number): { row: number; column: number } => ({
    row: Math.max(0, Math.min(rows - 1, row)),
    column: Math.max(0, Math.min(columns - 1, column)),
  });
  switch (key) {
    case 'ArrowUp':
      return held(at.row - 1, at.column);
    case 'ArrowDown':
      return held(at.row + 1, at.column);
    case 'ArrowLeft':
      return held(at.row, at.column - 1);
    case 'ArrowRight':
      return held(at.row, at.column + 1);
    case 'Home':
      return control ? held(0, 0) : held(at.row, 0);
    case 'End':
      return control ? held(rows - 1, columns - 1) : held(at.row, columns - 1);
    case 'PageUp':
      return held(at.row - 10, at.column);
    case 'PageDown':
      return held(at.row + 10, at.column);
    default:
      return null;
  }
}
