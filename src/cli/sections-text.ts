import type { Results, SectionMeasures } from '../model/results.ts';
import type { Value } from '../model/value.ts';
import { definitionText } from '../report/definition-text.ts';
import { formatNumber } from '../report/format-number.ts';

/** Columns of the printed table: title, unit, and the value of a section. */
const COLUMNS: readonly [string, string, (measures: SectionMeasures) => Value][] = [
  ['chord', 'mm', (m) => m.chordFar],
  ['stagger', 'deg', (m) => m.staggerFarDeg],
  ['thickness', 'mm', (m) => m.thicknessMax],
  ['LE radius', 'mm', (m) => m.leadingEdge.radiusFit],
  ['TE radius', 'mm', (m) => m.trailingEdge.radiusFit],
  ['camber', 'deg', (m) => m.camberAngleDeg],
  ['metal in', 'deg', (m) => m.metalAngleLeadingDeg],
  ['metal out', 'deg', (m) => m.metalAngleTrailingDeg],
  ['area', 'mm2', (m) => m.area],
];

function shown({ value, unit, u }: Value): string {
  return value === null ? '-' : formatNumber(value, { unit, u, minus: '-' });
}

/**
 * The main values of every section as a table with aligned columns; a dash stands for what was not measured. Below it,
 * what those sections are that are no planes across Z.
 */
export function sectionTableText(results: Results): string {
  const head = ['section', 'height', ...COLUMNS.map(([title]) => title)];
  const units = ['', 'mm', ...COLUMNS.map(([, unit]) => (unit === 'mm2' ? 'mm²' : unit))];
  const rows = results.sections.map((section) => [
    section.id,
    formatNumber(section.height, { minus: '-' }),
    ...COLUMNS.map(([, , pick]) => (section.measured === undefined ? '-' : shown(pick(section.measured)))),
  ]);
  const first = results.sections.find((section) => section.measured)?.measured;
  const ways = ['', '', ...COLUMNS.map(([, , pick]) => (first ? definitionText(pick(first)) : ''))];
  const table = [head, units, ways, ...rows];
  const widths = head.map((_, column) => Math.max(...table.map((row) => row[column].length)));
  const lines = table.map((row) => row.map((cell, i) => cell.padStart(widths[i])).join('  '));
  const cuts = results.sections.flatMap(({ id, cut }) => (cut ? [`${id}: ${cut.text}; developed`] : []));
  return [...lines, ...cuts].join('\n');
}
