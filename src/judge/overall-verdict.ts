import type { Verdict } from '../model/results.ts';

/** Verdicts from gravest to lightest. */
const ORDER: readonly Verdict[] = ['fail', 'not-measured', 'not-proven', 'pass', 'no-limit', 'not-applicable'];

/** The gravest verdict of a list; `no-limit` for an empty one. Missing data are never a pass. */
export function overallVerdict(verdicts: readonly Verdict[]): Verdict {
  return ORDER.find((verdict) => verdicts.includes(verdict)) ?? 'no-limit';
}
