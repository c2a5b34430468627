import { expect, test } from 'vitest';
import { exitCodeOf } from '../../src/cli/exit-code.ts';
import type { Results, Verdict } from '../../src/model/results.ts';

/** Results with nothing but verdicts, of characteristics and of zones. */
function results(characteristics: Verdict[], zones: Verdict[] = []): Results {
  const rows = (verdicts: Verdict[]) => verdicts.map((verdict) => ({ verdict }));
  return { characteristics: rows(characteristics), deviation: { zones: rows(zones) } } as unknown as Results;
}

test.each<[Verdict[], Verdict[], number, number]>([
  [[], [], 0, 0],
  [['pass', 'no-limit', 'not-applicable'], ['pass'], 0, 0],
  [['pass', 'fail'], ['pass'], 1, 1],
  [['pass'], ['fail'], 1, 1],
  [['not-measured'], ['fail'], 1, 1],
  [['pass', 'not-proven'], [], 0, 4],
  [['pass'], ['not-measured'], 0, 4],
])('characteristics %j, zones %j', (characteristics, zones, plain, strict) => {
  expect(exitCodeOf(results(characteristics, zones), false)).toBe(plain);
  expect(exitCodeOf(results(characteristics, zones), true)).toBe(strict);
});
