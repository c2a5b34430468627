import type { Plan, PlanCharacteristic, PlanDefinition } from '../model/plan.ts';
import type { SectionResult } from '../model/results.ts';
import { CATALOGUE, type CatalogueEntry, catalogueEntry } from './catalogue.ts';
import { listOf } from './values-of-path.ts';

/** What a plan asks for, with the quantity's entry. */
export interface WantedRow {
  item: PlanCharacteristic;
  entry: CatalogueEntry;
}

/**
 * The rows of the table before they are spread over sections: those the plan names; without any, every main quantity
 * and every quantity a definition was chosen for.
 * @param trends true where there are trends over the span
 */
export function wantedRows(
  sections: readonly SectionResult[],
  trends: boolean,
  plan: Plan | null,
  definitions: readonly PlanDefinition[],
): WantedRow[] {
  if (plan?.characteristics?.length)
    return plan.characteristics.map((item) => ({ item, entry: catalogueEntry(item.of)! }));
  return CATALOGUE.filter(
    (entry) =>
      (entry.main || definitions.some((definition) => definition.of === entry.of)) &&
      (entry.scope === 'section' || trends),
  ).flatMap((entry) => {
    if (!entry.list) return [{ item: { of: entry.of }, entry }];
    const places = new Set(sections.flatMap((section) => listOf(section.measured, entry).map((found) => found.at)));
    return [...places].sort((a, b) => a - b).map((at) => ({ item: { of: entry.of, at }, entry }));
  });
}
