import type { Plan } from '../../src/model/plan.ts';
import type { Answer, Results } from '../../src/model/results.ts';

/** At most this many characteristic numbers are named. */
const NAMED = 6;

/** The sentence the Report page opens with: what the table of characteristics still lacks. */
export function reportAnswer(results: Results): Answer {
  const rows = results.characteristics ?? [];
  const missing = rows.filter((r) => r.verdict === 'not-measured');
  const verdict = results.answers.sections?.verdict ?? 'no-limit';
  const count = rows.length === 1 ? '1 row' : `${rows.length} rows`;
  if (rows.length === 0)
    return { text: 'The report holds the deviation map and sections; no characteristics are listed.', verdict };
  if (missing.length === 0) return { text: `The table is complete: ${count}, each with a result.`, verdict };
  const numbers = [...new Set(missing.map((r) => r.number))];
  const word = numbers.length === 1 ? 'characteristic' : 'characteristics';
  const named = numbers.length > NAMED ? `${numbers.slice(0, NAMED).join(', ')} and more` : numbers.join(', ');
  const lacking = missing.length === 1 ? '1 result is' : `${missing.length} results are`;
  return { text: `The table of ${count} is complete except ${word} ${named}: ${lacking} not measured.`, verdict };
}

/** Part and serial as the plan states them; null when it names neither. */
export function partName(plan: Plan | null): string | null {
  const part = plan?.part?.number ?? plan?.part?.name;
  const named = [part, plan?.serial ? `serial ${plan.serial}` : undefined].filter((word) => word !== undefined);
  return named.length === 0 ? null : named.join(', ');
}

/** File name stem of the outputs: part and serial where known, else the measured file. */
export function outputName(results: Results, plan: Plan | null): string {
  const measured = (results.inputs.measured?.[0]?.name ?? 'results').replace(/\.[^.]+$/, '');
  return (partName(plan) ?? measured).replace(/[^\w.-]+/g, '-');
}
