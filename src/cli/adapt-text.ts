import type { AdaptCheck } from '../model/adapt-results.ts';
import type { Results } from '../model/results.ts';
import { checkAmount, flankText } from '../report/adapt-text.ts';
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
    `Cut to nominal everywhere: ${results.answers.stock!.text}`,
    ...adapt.flanks.map((flank) => `  ${flankText(flank)}: ${flank.reason}`),
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

function checkLine({ id, name, value, limit, unit, verdict, where }: AdaptCheck, talk: Talk): string {
  const word = talk.tint(VERDICT_WORDS[verdict].padEnd(13), verdict);
  const amount = (number: number | null): string => checkAmount({ id, unit }, number);
  return `  ${word} ${name}: ${amount(value)} (limit ${amount(limit)})${where === null ? '' : `, ${where}`}`;
}
