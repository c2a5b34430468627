import type { SectionMeasures, SectionResult } from '../model/results.ts';
import type { Value } from '../model/value.ts';
import type { CatalogueEntry } from './catalogue.ts';

/** Places closer than this are one. */
const SAME_PLACE = 1e-9;

function lookUp(record: unknown, path: string): unknown {
  return path.split('.').reduce<unknown>((found, key) => (found as Record<string, unknown> | undefined)?.[key], record);
}

/** The values of a list quantity with their places (set-backs in mm, or fractions). */
export function listOf(measures: SectionMeasures | undefined, entry: CatalogueEntry): { at: number; value: Value }[] {
  const list = entry.source === null ? [] : (lookUp(measures, entry.source) ?? []);
  return (list as (Value & { fraction?: number; setback?: number })[]).map((item) => ({
    at: (entry.list === 'fraction' ? item.fraction : item.setback)!,
    value: item,
  }));
}

/** The value of an entry by its own definition in a set of measures; undefined when the set does not hold it. */
export function valueIn(measures: SectionMeasures | undefined, entry: CatalogueEntry, at?: number): Value | undefined {
  if (entry.source === null) return undefined;
  if (!entry.list) return lookUp(measures, entry.source) as Value | undefined;
  return listOf(measures, entry).find((item) => Math.abs(item.at - at!) < SAME_PLACE)?.value;
}

/** The same of a section: its motions, else its measures. */
export function measuredIn(section: SectionResult, entry: CatalogueEntry, at?: number): Value | undefined {
  const own = entry.source === null ? undefined : (lookUp(section, entry.source) as Value | undefined);
  return own ?? valueIn(section.measured, entry, at);
}
