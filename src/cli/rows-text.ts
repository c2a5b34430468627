import type { Characteristic, Results, Verdict } from '../model/results.ts';
import { budgetText } from '../report/budget-text.ts';
import { locationText, requirementText } from '../report/characteristics-csv.ts';
import { definitionText } from '../report/definition-text.ts';
import { faultPlace, faultSize } from '../report/fault-text.ts';
import { formatNumber, formatU, withUnit } from '../report/format-number.ts';
import { VERDICT_WORDS } from '../report/svg/verdict-shape.ts';
import type { Talk } from './talk.ts';

/** Rows printed when not everything is asked for. */
const MOST = 12;

/** Verdicts that are printed without --verbose, gravest first. */
const OPEN: readonly Verdict[] = ['fail', 'not-proven', 'not-measured'];

/** Value with its definition, limits and U with the parts of U. */
function rowText(row: Characteristic): string {
  const { lower, upper, unit } = row.requirement;
  const style = { unit, u: row.u, limits: [lower, upper], minus: '-' } as const;
  const value = row.value === null ? 'no value' : withUnit(formatNumber(row.value, style), unit);
  const parts = [`${value} [${definitionText(row)}]`];
  if (lower !== null || upper !== null) parts.push(requirementText(row, '-'));
  if (row.value !== null) parts.push(uncertaintyText(row));
  const why = row.reason === undefined ? '' : ` - ${row.reason}`;
  return `${String(row.number).padStart(4)}  ${locationText(row)}, ${row.name}: ${parts.join(', ')}${why}`;
}

function uncertaintyText({ u, budget, requirement }: Characteristic): string {
  if (u === null) return 'U unknown';
  const parts = budgetText(budget);
  return `U ${withUnit(formatU(u), requirement.unit)}${parts ? ` (${parts})` : ''}`;
}

/**
 * The rows of the characteristic table as lines: those that fail, are not proven or not measured, in this order and at
 * most a dozen; all, in the order of the table, with --verbose.
 */
export function rowLines(results: Results, talk: Pick<Talk, 'verbose' | 'tint'>): string[] {
  const rows = results.characteristics ?? [];
  const open = OPEN.flatMap((verdict) => rows.filter((row) => row.verdict === verdict));
  const shown = talk.verbose ? rows : open.slice(0, MOST);
  const lines = shown.map(
    (row) => `  ${talk.tint(VERDICT_WORDS[row.verdict].padEnd(13), row.verdict)} ${rowText(row)}`,
  );
  const left = talk.verbose ? 0 : open.length - shown.length;
  return left > 0 ? [...lines, `  and ${left} more rows; --verbose prints all`] : lines;
}

/** Local defects with places and sizes; a line where they were looked for and none was found. */
export function faultLines({ faults }: Results): string[] {
  if (!faults) return [];
  if (faults.length === 0) return ['Local defects: none found.'];
  return ['Local defects:', ...faults.map((fault) => `  ${fault.kind}, ${faultPlace(fault)}: ${faultSize(fault)}`)];
}
