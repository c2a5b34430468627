import { type DecisionRule, decide } from '../judge/decide.ts';
import type { MapGap } from '../judge/largest-gap.ts';
import { overallVerdict } from '../judge/overall-verdict.ts';
import { ruleOf, unseenReason } from '../judge/zones.ts';
import type { Plan } from '../model/plan.ts';
import type { Verdict } from '../model/results.ts';
import type { StockZone } from '../model/stock-cells.ts';
import type { Value } from '../model/value.ts';
import { lengthText } from './length-text.ts';
import { stockWanted } from './stock-zones.ts';

/** The rule stock is decided by: that of the plan, with the factor of the stock wanted. */
function stockRule(plan: Plan | null): DecisionRule {
  return { rule: ruleOf(plan).rule, factor: stockWanted(plan).factor };
}

/**
 * Holds the least and most stock of a zone against what is wanted, with the guard of their uncertainty. A zone that is not
 * measured enough cannot pass; a fail stays a fail.
 */
export function stockVerdict(
  least: Value,
  most: Value,
  zone: Pick<StockZone, 'least' | 'most'>,
  seen: { coverage: number; gap: MapGap | null },
  plan: Plan | null,
): { verdict: Verdict; reason?: string } {
  const rule = stockRule(plan);
  const low = decide(least.value, least.u, zone.least, null, rule);
  const high = zone.most === null ? null : decide(most.value, most.u, null, zone.most, rule);
  const verdict = overallVerdict(high ? [low.verdict, high.verdict] : [low.verdict]);
  const unseen = verdict === 'fail' || least.value === null ? null : unseenReason(seen.coverage, seen.gap, plan);
  if (unseen !== null) return { verdict: 'not-measured', reason: unseen };
  const amount = (value: number): string => lengthText(Math.abs(value));
  if (low.verdict === verdict && verdict === 'fail')
    return { verdict, reason: `Short of the ${amount(zone.least)} wanted by ${amount(low.margin ?? 0)}.` };
  if (high?.verdict === verdict && verdict === 'fail')
    return { verdict, reason: `Over the ${amount(zone.most ?? 0)} allowed by ${amount(high.margin ?? 0)}.` };
  if (verdict === 'not-proven')
    return { verdict, reason: 'Within the uncertainty of the limit: neither enough nor short is proven.' };
  return { verdict };
}
