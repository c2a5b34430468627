import type { AdaptCheck } from '../model/adapt-results.ts';
import type { Results } from '../model/results.ts';
import { formatFixed } from '../report/format-number.ts';
import { VERDICT_WORDS } from '../report/svg/verdict-shape.ts';
import type { Talk } from './talk.ts';

/** The answers, what stays as forged, the checks and the files as lines; the first is the answer. */
export function adaptText(results: Results, paths: readonly string[], talk: Talk): string {
  const adapt = results.adapt!;
  const answer = results.answers.adapt!;
  const sections = adapt.sections.filter((section) => section.reason !== undefined);
  return [
    answer.text,
    `Verdict: ${talk.tint(VERDICT_WORDS[answer.verdict], answer.verdict)}`,
    `Stock: ${results.answers.stock!.text}`,
    ...adapt.flanks.map(({ side, kept, reason }) => `  ${side} side ${kept ? 'stays as forged' : 'is cut'}: ${reason}`),
    'Checks:',
    ...adapt.checks.map((check) => checkLine(check, talk)),
    ...(sections.length > 0 ? ['Sections:'] : []),
    ...sections.map(({ id, reason }) => `  ${id}: ${reason}`),
    `Report: ${paths.find((path) => path.endsWith('.html'))}`,
    `Files:  ${paths.filter((path) => !path.endsWith('.html')).join('\n        ')}`,
  ]
    .map((line) => line.trimEnd())
    .join('\n');
}

function checkLine({ name, value, limit, unit, verdict, where }: AdaptCheck, talk: Talk): string {
  const word = talk.tint(VERDICT_WORDS[verdict].padEnd(13), verdict);
  const amount = (number: number | null): string =>
    number === null ? '–' : `${formatFixed(number, 4)}${unit === '1' ? '' : ` ${unit}`}`;
  return `  ${word} ${name}: ${amount(value)} (limit ${amount(limit)})${where === null ? '' : `, ${where}`}`;
}
