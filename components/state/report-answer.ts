import type { Answer, Results } from '../../src/model/results.ts';

/** The sentence the Report page opens with: what the table of characteristics still lacks. */
export function reportAnswer(results: Results): Answer {
  const rows = results.characteristics ?? [];
  const missing = rows.filter((r) => r.verdict === 'not-measured');
  const verdict = results.answers.sections?.verdict ?? 'no-limit';
  const count = `${rows.length} ${rows.length === 1 ? 'characteristic' : 'characteristics'}`;
  if (rows.length === 0)
    return { text: 'The report holds the deviation map and sections; no characteristics are listed.', verdict };
  if (missing.length === 0) return { text: `The table is complete: ${count}, each with a result.`, verdict };
  const named = missing.slice(0, 4).map((r) => r.number);
  const more = missing.length > named.length ? ` and ${missing.length - named.length} more` : '';
  const word = missing.length === 1 ? 'characteristic' : 'characteristics';
  return {
    text: `The table of ${count} is complete except ${word} ${named.join(', ')}${more}, not measured.`,
    verdict,
  };
}

/** File name stem of the outputs: part and serial where known, else the measured file. */
export function outputName(results: Results): string {
  const measured = results.inputs.measured?.[0]?.name ?? 'results';
  return measured.replace(/\.[^.]+$/, '').replace(/[^\w.-]+/g, '-');
}
