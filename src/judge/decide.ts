import type { Verdict } from '../model/results.ts';

/** How uncertainty enters the verdict. */
export interface DecisionRule {
  /** 'guarded': limits moved by g = factor × u. 'simple': value against limit, uncertainty ignored. */
  rule: 'guarded' | 'simple';
  /** Guard band in standard uncertainties. */
  factor: number;
}

/** 95 % conformance probability for a Gaussian error much smaller than the tolerance (ISO 14253-1, edition of 2017). */
export const DEFAULT_RULE: Readonly<DecisionRule> = { rule: 'guarded', factor: 1.65 };

export interface Decision {
  verdict: Verdict;
  /** Guard band g in the unit of the value; 0 under the simple rule, null when unknown. */
  guard: number | null;
  /** Distance of the value inside its nearest limit, negative outside; null without value or limit. */
  margin: number | null;
  /** Amount beyond the limit, sign kept (negative below the lower limit); 0 inside; null without value or limit. */
  outOfTolerance: number | null;
}

/** Share of the largest number involved that counts as rounding, so that a value at a limit is inside it. */
const ROUNDING = 1e-12;

/**
 * The verdict on one value.
 * Guarded rule (ISO 14253-1): `pass` inside the limits moved in by g, `fail` outside the limits moved out by g,
 * `not-proven` between. A value exactly on the moved-in limit passes; one exactly on the moved-out limit is not proven.
 * With unknown `u` the guarded rule proves nothing: `not-proven`, the amount beyond the limit still being stated.
 * Simple rule: `pass` inside or on the limits, else `fail`.
 * @param value measured value, null when not measured
 * @param u standard uncertainty (k = 1) in the unit of the value, null when unknown
 * @param lower lower limit, null when there is none
 * @param upper upper limit, null when there is none
 */
export function decide(
  value: number | null,
  u: number | null,
  lower: number | null,
  upper: number | null,
  rule: DecisionRule = DEFAULT_RULE,
): Decision {
  const guard = rule.rule === 'simple' ? 0 : u === null ? null : rule.factor * Math.abs(u);
  if (value === null) return { verdict: 'not-measured', guard, margin: null, outOfTolerance: null };
  if (lower === null && upper === null) return { verdict: 'no-limit', guard, margin: null, outOfTolerance: null };
  const below = lower === null ? Number.POSITIVE_INFINITY : value - lower;
  const above = upper === null ? Number.POSITIVE_INFINITY : upper - value;
  const margin = Math.min(below, above);
  const slack = ROUNDING * Math.max(Math.abs(value), Math.abs(lower ?? 0), Math.abs(upper ?? 0));
  const outOfTolerance = margin >= -slack ? 0 : above <= below ? -above : below;
  if (guard === null) return { verdict: 'not-proven', guard, margin, outOfTolerance };
  const verdict = margin >= guard - slack ? 'pass' : margin < -guard - slack ? 'fail' : 'not-proven';
  return { verdict, guard, margin, outOfTolerance };
}

/** The rule in one plain sentence, as printed in every report. */
export function ruleText(rule: DecisionRule): string {
  return rule.rule === 'simple'
    ? 'A value on or inside its limits passes, any other fails; uncertainty is not allowed for.'
    : `Limits are moved by the guard band g = ${rule.factor} × u: inside the limits moved in, pass; outside the limits ` +
        'moved out, fail; between, not proven. A value of unknown uncertainty is not proven.';
}
