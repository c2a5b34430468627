import { describe, expect, test } from 'vitest';
import { type DecisionRule, decide, ruleText } from '../../src/judge/decide.ts';
import type { Verdict } from '../../src/model/results.ts';

type Case = [
  value: number | null,
  u: number | null,
  lower: number | null,
  upper: number | null,
  Verdict,
  out: number | null,
];

const GUARDED: DecisionRule = { rule: 'guarded', factor: 1.65 };
const SIMPLE: DecisionRule = { rule: 'simple', factor: 1.65 };
const EXPANDED: DecisionRule = { rule: 'guarded', factor: 2 };

// Two-sided ±0.1 with u = 0.004: g = 0.0066, accept within ±0.0934, reject beyond ±0.1066.
const guarded: Case[] = [
  [0, 0.004, -0.1, 0.1, 'pass', 0],
  [0.05, 0.004, -0.1, 0.1, 'pass', 0],
  [0.0934, 0.004, -0.1, 0.1, 'pass', 0],
  [0.09340001, 0.004, -0.1, 0.1, 'not-proven', 0],
  [0.1, 0.004, -0.1, 0.1, 'not-proven', 0],
  [0.10000001, 0.004, -0.1, 0.1, 'not-proven', 0.00000001],
  [0.1066, 0.004, -0.1, 0.1, 'not-proven', 0.0066],
  [0.10660001, 0.004, -0.1, 0.1, 'fail', 0.00660001],
  [0.2, 0.004, -0.1, 0.1, 'fail', 0.1],
  [-0.0934, 0.004, -0.1, 0.1, 'pass', 0],
  [-0.09340001, 0.004, -0.1, 0.1, 'not-proven', 0],
  [-0.1, 0.004, -0.1, 0.1, 'not-proven', 0],
  [-0.10000001, 0.004, -0.1, 0.1, 'not-proven', -0.00000001],
  [-0.1066, 0.004, -0.1, 0.1, 'not-proven', -0.0066],
  [-0.10660001, 0.004, -0.1, 0.1, 'fail', -0.00660001],
  [-0.3, 0.004, -0.1, 0.1, 'fail', -0.2],
  // Zone value: t = 0.30, u(V) = 0.008: accept V up to 0.2868.
  [0.2868, 0.008, null, 0.3, 'pass', 0],
  [0.28680001, 0.008, null, 0.3, 'not-proven', 0],
  [0.26, 0.008, null, 0.3, 'pass', 0],
  [0.3132, 0.008, null, 0.3, 'not-proven', 0.0132],
  [0.31320001, 0.008, null, 0.3, 'fail', 0.01320001],
  [-100, 0.008, null, 0.3, 'pass', 0],
  [0.186, 0.004, 0.2, 0.3, 'fail', -0.014],
  [0.2066, 0.004, 0.2, null, 'pass', 0],
  [0.20659999, 0.004, 0.2, null, 'not-proven', 0],
  [0.2, 0.004, 0.2, null, 'not-proven', 0],
  [0.1934, 0.004, 0.2, null, 'not-proven', -0.0066],
  [0.19339999, 0.004, 0.2, null, 'fail', -0.00660001],
  [1e6, 0.004, 0.2, null, 'pass', 0],
  // No uncertainty known: nothing is proven, the amount is still stated.
  [0, null, -0.1, 0.1, 'not-proven', 0],
  [0.2, null, -0.1, 0.1, 'not-proven', 0.1],
  [-5, null, -0.1, null, 'not-proven', -4.9],
  [0.1, null, null, 0.1, 'not-proven', 0],
  // Zero uncertainty: guarded and simple agree.
  [0.1, 0, -0.1, 0.1, 'pass', 0],
  [0.10000001, 0, -0.1, 0.1, 'fail', 0.00000001],
  [-0.1, 0, -0.1, null, 'pass', 0],
  // Tolerance narrower than 2g: nothing can pass.
  [0, 0.1, -0.1, 0.1, 'not-proven', 0],
  [0.264, 0.1, -0.1, 0.1, 'not-proven', 0.164],
  [0.27, 0.1, -0.1, 0.1, 'fail', 0.17],
  // Limits of no width.
  [1, 0, 1, 1, 'pass', 0],
  [1, 0.001, 1, 1, 'not-proven', 0],
  [1.002, 0.001, 1, 1, 'fail', 0.002],
  // Nothing measured, no limit.
  [null, 0.004, -0.1, 0.1, 'not-measured', null],
  [null, null, null, null, 'not-measured', null],
  [null, null, null, 0.1, 'not-measured', null],
  [0.5, 0.004, null, null, 'no-limit', null],
  [0.5, null, null, null, 'no-limit', null],
  // Large numbers with short decimals: a value on the moved limit is on it.
  [412.5934, 0.004, 412.4, 412.6, 'pass', 0],
  [412.4066, 0.004, 412.4, 412.6, 'pass', 0],
  [412.6066, 0.004, 412.4, 412.6, 'not-proven', 0.0066],
];
const simple: Case[] = [
  [0.1, 0.004, -0.1, 0.1, 'pass', 0],
  [-0.1, null, -0.1, 0.1, 'pass', 0],
  [0.10000001, 0.004, -0.1, 0.1, 'fail', 0.00000001],
  [-0.10000001, null, -0.1, 0.1, 'fail', -0.00000001],
  [0.2, null, 0.2, null, 'pass', 0],
  [0.19999999, null, 0.2, null, 'fail', -0.00000001],
  [0.3, 5, null, 0.3, 'pass', 0],
  [null, null, 0, 1, 'not-measured', null],
  [1, null, null, null, 'no-limit', null],
  [0.30000000000000004, null, null, 0.3, 'pass', 0],
];
const expanded: Case[] = [
  [0.092, 0.004, -0.1, 0.1, 'pass', 0],
  [0.0921, 0.004, -0.1, 0.1, 'not-proven', 0],
  [0.1081, 0.004, -0.1, 0.1, 'fail', 0.0081],
];

describe.each([
  ['guarded, 1.65', GUARDED, guarded],
  ['simple', SIMPLE, simple],
  ['guarded, 2', EXPANDED, expanded],
] as const)('%s', (_, rule, cases) => {
  test.each(cases)('value %s, u %s, limits %s to %s: %s', (value, u, lower, upper, verdict, out) => {
    const decision = decide(value, u, lower, upper, rule);
    expect(decision.verdict).toBe(verdict);
    if (out === null) expect(decision.outOfTolerance).toBeNull();
    else expect(decision.outOfTolerance).toBeCloseTo(out, 10);
  });
});

test('at least sixty edge cases are held', () => {
  expect(guarded.length + simple.length + expanded.length).toBeGreaterThanOrEqual(60);
});

test('guard and margin are stated', () => {
  expect(decide(0.05, 0.004, -0.1, 0.1)).toMatchObject({ guard: 0.0066, margin: 0.05 });
  expect(decide(0.05, null, -0.1, 0.1).guard).toBeNull();
  expect(decide(0.05, 0.004, -0.1, 0.1, SIMPLE).guard).toBe(0);
});

test('the rule says its factor', () => {
  expect(ruleText(EXPANDED)).toContain('g = 2 × u');
  expect(ruleText(SIMPLE)).toContain('not allowed for');
});
