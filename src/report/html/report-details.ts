import type { Characteristic, Fault, Results } from '../../model/results.ts';
import { BUDGET_SOURCES } from '../budget-text.ts';
import { locationText } from '../characteristics-csv.ts';
import { definitionText } from '../definition-text.ts';
import { faultPlace, faultSize } from '../fault-text.ts';
import { formatU } from '../format-number.ts';
import { type Column, type Html, tableHtml, text } from './html-parts.ts';

/** How each value was measured and what its U is made of: expanded parts (k = 2) whose root sum of squares is U. */
export function uncertaintyTable(results: Results): Html {
  const rows = (results.characteristics ?? []).filter((row) => row.value !== null);
  const sources = BUDGET_SOURCES.filter(({ key }) => rows.some((row) => row.budget?.[key] !== undefined));
  const part = (row: Characteristic, key: string) => {
    const amount = row.budget?.[key];
    return amount === undefined ? '–' : formatU(amount);
  };
  const columns: Column<Characteristic>[] = [
    { head: 'No.', kind: 'n', cell: (row) => String(row.number) },
    { head: 'Reference location', cell: (row) => text(locationText(row)) },
    { head: 'Characteristic', cell: (row) => text(row.name) },
    { head: 'Definition', cell: (row) => text(definitionText(row)) },
    { head: 'U (k=2)', kind: 'n', cell: (row) => formatU(row.u) },
    ...sources.map(({ key, word }): Column<Characteristic> => {
      return { head: `of it ${word}`, kind: 'n', cell: (row) => part(row, key) };
    }),
    { head: 'Points', kind: 'n', cell: (row) => pointsOf(row) },
  ];
  return tableHtml(columns, rows);
}

function pointsOf({ evidence }: Characteristic): string {
  return typeof evidence?.points === 'number' && evidence.points > 0 ? String(evidence.points) : '–';
}

/** Local defects with their places; a sentence where they were looked for and none was found, '' where they were not. */
export function faultTable(results: Results): Html {
  const { faults } = results;
  if (!faults) return '';
  if (faults.length === 0) return '<p>None found.</p>';
  return tableHtml<Fault>(
    [
      { head: 'Kind', kind: 'word', cell: (fault) => text(fault.kind) },
      { head: 'Where', cell: (fault) => text(faultPlace(fault)) },
      { head: 'Depth, width × length', cell: (fault) => text(faultSize(fault)) },
      { head: 'What', cell: (fault) => text(fault.message) },
    ],
    faults,
  );
}
