import type { Plan, PlanCharacteristic } from '../model/plan.ts';
import type {
  Alignment,
  Characteristic,
  SectionMeasures,
  SectionResult,
  Trends,
  Verdict,
  ZoneDeviation,
} from '../model/results.ts';
import { unmeasured, type Value } from '../model/value.ts';
import { CATALOGUE, type CatalogueEntry, catalogueEntry, equipmentUncertainty } from './catalogue.ts';
import { decide } from './decide.ts';
import { shareText } from './share-text.ts';
import { awaitsDatums, DATUM_REASON, ruleOf } from './zones.ts';

/**
 * The numbered rows of the characteristic table: those the plan names, or every main one without limits, then a row for
 * the profile of each zone that has limits.
 * @param sections as measured; `nominal` gives the requirement where the plan gives none
 * @param method how the part was placed, null where placement does not matter
 */
export function judgeCharacteristics(
  sections: readonly SectionResult[],
  trends: Trends | null,
  zones: readonly ZoneDeviation[],
  plan: Plan | null,
  method: Alignment['method'] | null,
): Characteristic[] {
  const wanted = plan?.characteristics?.length ? plan.characteristics : mainCharacteristics(sections, trends);
  const rows: Characteristic[] = [];
  let last = 0;
  const add = (row: Omit<Characteristic, 'number'>, number?: number) => {
    last = Math.max(last, number ?? last + 1);
    const { id, ...rest } = row;
    rows.push({ id, number: number ?? last, ...rest });
  };
  for (const item of wanted) {
    const entry = catalogueEntry(item.of)!;
    if (entry.scope === 'span') {
      const value = trends ? (trends[entry.of as keyof Trends] as Value) : noTrend(entry);
      add(judgeOne(item, entry, null, value, spanSize(entry, sections), plan, method), item.number);
      continue;
    }
    for (const section of sections)
      if (!item.sections || item.sections.includes(section.id)) {
        const value = measuredValue(section, entry, item.at);
        add(judgeOne(item, entry, section, value, sizeOf(section), plan, method), item.number);
      }
  }
  for (const zone of zones) if (zone.lower !== null || zone.upper !== null) add(profileRow(zone, method));
  return rows;
}

function noTrend(entry: CatalogueEntry): Value {
  return unmeasured('not-measured', 'Too few sections are measured for a trend over the span.', entry.unit, '–');
}

/** Every main quantity, lists by each of their places, so that the table is whole without a plan. */
function mainCharacteristics(sections: readonly SectionResult[], trends: Trends | null): PlanCharacteristic[] {
  return CATALOGUE.filter((entry) => entry.main && (entry.scope === 'section' || trends)).flatMap((entry) => {
    if (!entry.list) return [{ of: entry.of }];
    const places = new Set(sections.flatMap((section) => listOf(section.measured, entry).map((item) => item.at)));
    return [...places].sort((a, b) => a - b).map((at) => ({ of: entry.of, at }));
  });
}

function lookUp(record: unknown, path: string): unknown {
  return path.split('.').reduce<unknown>((found, key) => (found as Record<string, unknown> | undefined)?.[key], record);
}

function listOf(measures: SectionMeasures | undefined, entry: CatalogueEntry): { at: number; value: Value }[] {
  const list = (lookUp(measures, entry.of) ?? []) as (Value & { fraction?: number; setback?: number })[];
  return list.map((item) => ({ at: (entry.list === 'fraction' ? item.fraction : item.setback)!, value: item }));
}

/** The value of a path in a set of measures; undefined when the set does not hold it. */
function valueIn(measures: SectionMeasures | undefined, entry: CatalogueEntry, at?: number): Value | undefined {
  if (!entry.list) return lookUp(measures, entry.of) as Value | undefined;
  return listOf(measures, entry).find((item) => Math.abs(item.at - at!) < 1e-9)?.value;
}

function measuredValue(section: SectionResult, entry: CatalogueEntry, at?: number): Value {
  const own = lookUp(section, entry.of) as Value | undefined;
  const found = own ?? valueIn(section.measured, entry, at);
  const reason = section.measured ? 'This quantity was not asked for at this place.' : 'The section was not measured.';
  return found ?? unmeasured('not-measured', reason, entry.unit, '–');
}

interface Requirement {
  nominal: number | null;
  lower: number | null;
  upper: number | null;
  /** Set when limits are given as amounts but there is no nominal value to count them from. */
  missing: boolean;
}

function requirementOf(item: PlanCharacteristic, entry: CatalogueEntry, section: SectionResult | null): Requirement {
  const own = section ? (valueIn(section.nominal, entry, item.at)?.value ?? null) : null;
  const nominal = item.nominal ?? (entry.aboutZero ? 0 : own);
  const from = (amount: number | undefined, sign: 1 | -1) =>
    amount === undefined || nominal === null ? null : nominal + sign * amount;
  return {
    nominal,
    lower: item.lower ?? from(item.minus, -1),
    upper: item.upper ?? from(item.plus, 1),
    missing: nominal === null && (item.plus !== undefined || item.minus !== undefined),
  };
}

function judgeOne(
  item: PlanCharacteristic,
  entry: CatalogueEntry,
  section: SectionResult | null,
  value: Value,
  size: Size,
  plan: Plan | null,
  method: Alignment['method'] | null,
): Omit<Characteristic, 'number'> {
  const { missing, ...requirement } = requirementOf(item, entry, section);
  const u = totalUncertainty(value, entry, size, plan);
  const decision = decide(value.value, u, requirement.lower, requirement.upper, ruleOf(plan));
  const judged = verdictOf(item, entry, section, value, decision.verdict, u, missing, plan, method);
  const place = item.at === undefined ? '' : `(${item.at})`;
  return {
    id: `${entry.of}${place}${section ? `@${section.id}` : ''}`,
    of: entry.of,
    ...(item.at === undefined ? {} : { at: item.at }),
    name: item.name ?? nameOf(entry, item.at),
    section: section?.id ?? null,
    definition: value.definition,
    requirement: { ...requirement, unit: value.unit },
    value: value.value,
    u,
    deviation: value.value === null || requirement.nominal === null ? null : value.value - requirement.nominal,
    outOfTolerance: decision.outOfTolerance,
    alignment: entry.placed ? (method ?? 'none') : 'none',
    coverage: section?.coverage ?? null,
    ...judged,
  };
}

function nameOf(entry: CatalogueEntry, at: number | undefined): string {
  if (at === undefined) return entry.name;
  return entry.list === 'fraction' ? `${entry.name} at ${at * 100} % of the camber line` : `${entry.name} at ${at} mm`;
}

/** Lengths (mm) that turn an error of the equipment into one of the quantity. */
interface Size {
  chord: number | null;
  perimeter: number | null;
}

function sizeOf(section: SectionResult): Size {
  const measures = section.measured ?? section.nominal;
  return { chord: measures?.chordFar.value ?? null, perimeter: measures?.perimeter.value ?? null };
}

/** Lever of a quantity of the whole span: its height for a slope, the smallest chord over √2 for a difference of angles. */
function spanSize(entry: CatalogueEntry, sections: readonly SectionResult[]): Size {
  const heights = sections.map((section) => section.height);
  const chords = sections.map((section) => sizeOf(section).chord).filter((chord) => chord !== null);
  const height = Math.max(...heights) - Math.min(...heights);
  const smallest = Math.min(...chords) / Math.SQRT2;
  const lever = entry.of === 'untwistDeg' ? smallest : height;
  return { chord: lever > 0 && Number.isFinite(lever) ? lever : null, perimeter: null };
}

function totalUncertainty(value: Value, entry: CatalogueEntry, size: Size, plan: Plan | null): number | null {
  if (value.u === null) return null;
  const point = plan?.uncertainty?.equipment ?? 0;
  const added = equipmentUncertainty(entry.effect, point, size.chord, size.perimeter);
  return added === null ? null : Math.hypot(value.u, added);
}

function verdictOf(
  item: PlanCharacteristic,
  entry: CatalogueEntry,
  section: SectionResult | null,
  value: Value,
  plain: Verdict,
  u: number | null,
  missing: boolean,
  plan: Plan | null,
  method: Alignment['method'] | null,
): { verdict: Verdict; reason?: string } {
  const told = value.reason === undefined ? {} : { reason: value.reason };
  if (value.status === 'not-applicable') return { verdict: 'not-applicable', ...told };
  const limited = [item.lower, item.upper, item.plus, item.minus].some((limit) => limit !== undefined);
  if (!limited) return { verdict: 'no-limit', ...told };
  if (value.value === null) return { verdict: 'not-measured', ...told };
  if (missing)
    return { verdict: 'not-proven', reason: 'The limits are amounts from a nominal value, and there is none.' };
  if (entry.placed && awaitsDatums(plan, method)) return { verdict: 'not-proven', reason: DATUM_REASON };
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

/** The profile row of a zone: zone value V against the whole width t. */
function profileRow(zone: ZoneDeviation, method: Alignment['method'] | null): Omit<Characteristic, 'number'> {
  const width = zone.lower !== null && zone.upper !== null ? zone.upper - zone.lower : null;
  const { value, u } = zone.profileValue;
  const over = value === null || width === null ? null : Math.max(0, value - width);
  return {
    id: `profile:${zone.zone}`,
    of: 'profile',
    name: `Profile, ${zone.zone}`,
    section: null,
    definition: zone.profileValue.definition,
    requirement: { nominal: null, lower: null, upper: width, unit: 'mm' },
    value,
    u,
    deviation: null,
    outOfTolerance: over,
    verdict: zone.verdict,
    alignment: method ?? 'none',
    coverage: zone.coverage,
    ...(zone.reason === undefined ? {} : { reason: zone.reason }),
  };
}
