import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { markdownTable } from '../support/markdown-table.ts';
import type { Summary } from './part.ts';

/** Summaries of the parts by name, kept from run to run in dist/accuracy.json. */

export interface KeptSummary extends Summary {
  count: number;
  broken: string[];
}

const KEPT = 'dist/accuracy.json';
const README = 'README.md';
const WIDTH = 120;

export function keepSummaries(found: Record<string, KeptSummary>): void {
  writeFileSync(KEPT, `${JSON.stringify({ ...keptSummaries(), ...found }, null, 2)}\n`);
}

function keptSummaries(): Record<string, KeptSummary> {
  return existsSync(KEPT) ? JSON.parse(readFileSync(KEPT, 'utf8')) : {};
}

/** Writes the kept summaries of some parts into the README. */
export function writeReadme(names: readonly string[]): void {
  const kept = keptSummaries();
  let text = readFileSync(README, 'utf8');
  for (const name of names) text = withSummary(text, name, kept[name]);
  writeFileSync(README, text);
}

/**
 * Returns a text with the summary of a part between its two marks, `<!-- accuracy:begin name -->` and
 * `<!-- accuracy:end name -->`. A summary without marks goes before the end of the accuracy block.
 * @throws Error where the text has no accuracy block
 */
export function withSummary(text: string, name: string, summary: Summary): string {
  const [begin, end] = [`<!-- accuracy:begin ${name} -->`, `<!-- accuracy:end ${name} -->`];
  const block = `${begin}\n\n${markdownOf(summary)}\n\n${end}`;
  const from = text.indexOf(begin);
  const to = text.indexOf(end);
  if (from >= 0 && to > from) return text.slice(0, from) + block + text.slice(to + end.length);
  const close = text.indexOf('<!-- accuracy:end -->');
  if (close < 0) throw new Error('The README has no <!-- accuracy:end --> mark.');
  return `${text.slice(0, close)}${block}\n\n${text.slice(close)}`;
}

/** The sentence of a summary and its table, columns padded to equal width. */
export function markdownOf({ title, head, rows }: Summary): string {
  return [...wrapped(title), '', markdownTable(head, rows)].join('\n');
}

/** Words of a sentence in lines of at most 120 characters. */
function wrapped(sentence: string): string[] {
  const lines = [''];
  for (const word of sentence.split(' ')) {
    const last = lines[lines.length - 1];
    if (last.length + word.length < WIDTH) lines[lines.length - 1] = last === '' ? word : `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
