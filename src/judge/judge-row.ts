import type { Plan, PlanCharacteristic } from '../model/plan.ts';
import type { Alignment, Characteristic, SectionResult, Verdict } from '../model/results.ts';
import type { Parameters, Value } from '../model/value.ts';
import { uncertaintyOf } from './budget.ts';
import type { CatalogueEntry } from './catalogue.ts';
import { decide } from './decide.ts';
import type { Size } from './effects.ts';
import { requirementOf } from './requirement.ts';
import { shareText } from './share-text.ts';
import { traitsOf } from './traits.ts';
import { awaitsDatums, DATUM_REASON, ruleOf } from './zones.ts';

/** A value to be judged, with what it stands on. */
export interface RowSubject {
  /** null for a quantity of the whole span. */
  section: SectionResult | null;
  value: Value;
  /** Parameters in full where the value does not record them. */
  parameters: Parameters | undefined;
  /** The nominal blade's value by the same definition. */
  own: number | null;
  size: Size;
}

/** A row of the table without its number. */
export type Row = Omit<Characteristic, 'number'>;

/** Judges one value: requirement, uncertainty budget, verdict. */
export function judgeRow(
  item: PlanCharacteristic,
  entry: CatalogueEntry,
  subject: RowSubject,
  plan: Plan | null,
  method: Alignment['method'] | null,
): Row {
  const { section, value } = subject;
  const { requirement, missing } = requirementOf(item, entry, subject.own);
  const { effect, placed } = traitsOf(entry, value.definition);
  const { u, budget } = uncertaintyOf(value.value, value.u, effect, subject.size, plan);
  const decision = decide(value.value, u, requirement.lower, requirement.upper, ruleOf(plan));
  const held = placed && awaitsDatums(plan, method);
  const parameters = value.parameters ?? subject.parameters;
  const place = item.at === undefined ? '' : `(${item.at})`;
  return {
    id: `${entry.of}${place}${section ? `@${section.id}` : ''}`,
    of: entry.of,
    ...(item.at === undefined ? {} : { at: item.at }),
    name: item.name ?? nameOf(entry, item.at, value.definition, parameters),
    section: section?.id ?? null,
    definition: value.definition,
    ...(parameters && Object.keys(parameters).length > 0 ? { parameters } : {}),
    ...(value.evidence === undefined ? {} : { evidence: value.evidence }),
    ...(budget ? { budget } : {}),
    requirement: { ...requirement, unit: value.unit },
    value: value.value,
    u,
    deviation: value.value === null || requirement.nominal === null ? null : value.value - requirement.nominal,
    outOfTolerance: decision.outOfTolerance,
    alignment: placed ? (method ?? 'none') : 'none',
    coverage: section?.coverage ?? null,
    ...verdictOf(item, section, value, { plain: decision.verdict, u, missing, held }, plan),
  };
}

function nameOf(
  entry: CatalogueEntry,
  at: number | undefined,
  definition: string,
  parameters: Parameters = {},
): string {
  if (at === undefined) return entry.name;
  if (entry.list !== 'fraction') return `${entry.name} at ${at} mm`;
  const line = definition === 'T-ORD' || parameters.along === 'chord' ? 'chord' : 'camber line';
  return `${entry.name} at ${Number((at * 100).toFixed(6))} % of the ${line}`;
}

interface Found {
  /** Verdict of value against limits alone. */
  plain: Verdict;
  u: number | null;
  /** Limits without a nominal value to count from. */
  missing: boolean;
  /** Waits for a placement on datums. */
  held: boolean;
}

function verdictOf(
  item: PlanCharacteristic,
  section: SectionResult | null,
  value: Value,
  { plain, u, missing, held }: Found,
  plan: Plan | null,
): { verdict: Verdict; reason?: string } {
  const told = value.reason === undefined ? {} : { reason: value.reason };
  if (value.status === 'not-applicable') return { verdict: 'not-applicable', ...told };
  const limited = [item.lower, item.upper, item.plus, item.minus].some((limit) => limit !== undefined);
  if (!limited) return { verdict: 'no-limit', ...told };
  if (value.value === null) return { verdict: 'not-measured', ...told };
  if (missing)
    return { verdict: 'not-proven', reason: 'The limits are amounts from a nominal value, and there is none.' };
  if (held) return { verdict: 'not-proven', reason: DATUM_REASON };
  const wanted = plan?.minCoverage;
  if (plain !== 'fail' && wanted !== undefined && section?.coverage != null && section.coverage < wanted)
    return {
      verdict: 'not-measured',
      reason: `${shareText(section.coverage)} of the section is measured, ${shareText(wanted)} is wanted.`,
    };
  if (plain === 'not-proven' && u === null) return { verdict: plain, reason: 'The uncertainty is not known.' };
  if (plain === 'not-proven') return { verdict: plain, reason: 'Too close to a limit for the uncertainty.' };
  return { verdict: plain, ...told };
}
