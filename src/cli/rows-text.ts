import type { Characteristic, Results } from '../model/results.ts';
import { budgetText } from '../report/budget-text.ts';
import { locationText, requirementText } from '../report/characteristics-csv.ts';
import { definitionText } from '../report/definition-text.ts';
import { faultPlace, faultSize } from '../report/fault-text.ts';
import { formatNumber, formatU, withUnit } from '../report/format-number.ts';
import { VERDICT_WORDS } from '../report/svg/verdict-shape.ts';
import type { Talk } from './talk.ts';

/** Rows printed when not everything is asked for. */
const MOST = 12;

/** Value with its definition, limits and U with the parts of U. */
function rowText(row: Characteristic): string {
  const { lower, upper, unit } = row.requirement;
  const style = { unit, u: row.u, limits: [lower, upper], minus: '-' } as const;
  const parts = [
    row.value === null ? (row.reason ?? 'not measured') : withUnit(formatNumber(row.value, style), unit),
    `[${definitionText(row)}]`,
    ...(lower === null && upper === null ? [] : [requirementText(row, '-')]),
  ];
  if (row.value !== null) {
    const budget = budgetText(row.budget);
    const known = row.u === null ? 'U unknown' : `U ${withUnit(formatU(row.u), unit)}`;
    parts.push(budget && row.u !== null ? `${known} (${budget})` : known);
  }
  return `${String(row.number).padStart(4)}  ${locationText(row)}, ${row.name}: ${parts.join(', ')}`;
}

/**
 * The rows of the characteristic table as lines: those that fail, are not proven or not measured, at most a dozen; all
 * with --verbose.
 */
export function rowLines(results: Results, talk: Pick<Talk, 'verbose' | 'tint'>): string[] {
  const rows = results.characteristics ?? [];
  const open = ['fail', 'not-proven', 'not-measured'];
  const wanted = talk.verbose ? rows : rows.filter((row) => open.includes(row.verdict));
  const shown = talk.verbose ? wanted : wanted.slice(0, MOST);
  const lines = shown.map(
    (row) => `  ${talk.tint(VERDICT_WORDS[row.verdict].padEnd(13), row.verdict)} ${rowText(row)}`,
  );
  const left = wanted.length - shown.length;
  return left > 0 ? [...lines, `  and ${left} more rows; --verbose prints all`] : lines;
}

/** Local defects with places and sizes; a line where they were looked for and none was found. */
export function faultLines({ faults }: Results): string[] {
  if (!faults) return [];
  if (faults.length === 0) return ['Local defects: none found.'];
  return ['Local defects:', ...faults.map((fault) => `  ${fault.kind}, ${faultPlace(fault)}: ${faultSize(fault)}`)];
}
