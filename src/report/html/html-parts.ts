import type { Verdict } from '../../model/results.ts';
import { verdictMark } from '../svg/parts.ts';
import { escapeXml } from '../svg/path.ts';
import { VERDICT_WORDS } from '../svg/verdict-shape.ts';

/** HTML that is safe as it stands; text must pass `text` first. */
export type Html = string;

export const text = escapeXml;

/** Verdict as shape and word. */
export function verdictHtml(verdict: Verdict): Html {
  const mark = verdictMark(verdict, 8, 8, 5).replace(/<title>.*?<\/title>/, '');
  return `<span class="verdict"><svg width="16" height="16" viewBox="0 0 16 16" aria-hidden="true">${mark}</svg>${text(VERDICT_WORDS[verdict])}</span>`;
}

export interface Column<Row> {
  head: string;
  /** Right-aligned number, word that does not wrap, text that may break anywhere, or field to write in. */
  kind?: 'n' | 'word' | 'break' | 'write';
  /** Cell content, already safe. */
  cell: (row: Row) => Html;
}

/** A table with a repeated head; '' without rows. */
export function tableHtml<Row>(
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  rowClass: (row: Row) => string = () => '',
): Html {
  if (rows.length === 0) return '';
  const kind = (column: Column<Row>) => (column.kind ? ` class="${column.kind}"` : '');
  const head = columns.map((column) => `<th scope="col"${kind(column)}>${text(column.head)}</th>`).join('');
  const body = rows.map((row) => {
    const name = rowClass(row);
    const cells = columns.map((column) => `<td${kind(column)}>${column.cell(row)}</td>`).join('');
    return `<tr${name ? ` class="${name}"` : ''}>${cells}</tr>`;
  });
  return `<table><thead><tr>${head}</tr></thead><tbody>${body.join('\n')}</tbody></table>`;
}

/** A list of terms and their values; entries without value are left out. */
export function termsHtml(entries: readonly (readonly [string, string | null | undefined])[]): Html {
  const shown = entries.filter((entry): entry is readonly [string, string] => !!entry[1]);
  return `<dl>${shown.map(([term, value]) => `<dt>${text(term)}</dt><dd>${text(value)}</dd>`).join('')}</dl>`;
}

export function sectionHtml(head: string, body: Html): Html {
  return body === '' ? '' : `<section><h2>${text(head)}</h2>${body}</section>`;
}

export function figureHtml(svg: string): Html {
  return svg === '' ? '' : `<figure>${svg}</figure>`;
}
