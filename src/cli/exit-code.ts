import type { Results, Verdict } from '../model/results.ts';

/**
 * Returns the exit code results lead to: 1 when anything fails; with `strict` 4 when anything is not proven or not
 * measured; else 0.
 */
export function exitCodeOf(results: Results, strict: boolean): number {
  const judged = [
    ...(results.characteristics ?? []),
    ...(results.deviation?.zones ?? []),
    ...(results.adapt ? [results.adapt] : (results.stock?.zones ?? [])),
  ];
  const verdicts: Verdict[] = judged.map(({ verdict }) => verdict);
  if (verdicts.includes('fail')) return 1;
  return strict && (verdicts.includes('not-proven') || verdicts.includes('not-measured')) ? 4 : 0;
}
