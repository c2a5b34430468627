import { completeParameters, definitionOf } from '../measure/definitions/definitions.ts';
import type { SectionContext } from '../measure/section-context.ts';
import type { Plan, PlanDefinition } from '../model/plan.ts';
import type { Asked, SectionResult } from '../model/results.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import type { CatalogueEntry } from './catalogue.ts';
import { type Choice, parametersKey } from './choice.ts';
import { sectionChoice } from './section-choice.ts';
import { measuredIn } from './values-of-path.ts';
import { wantedRows } from './wanted-rows.ts';

/** What a section's quantities are measured on; null for what there is not. */
export interface SectionContexts {
  id: string;
  nominal: SectionContext | null;
  measured: SectionContext | null;
  /** The measured points carried to the section; null for a part measured without a nominal. */
  carried: CarriedSection | null;
}

/**
 * Returns a quantity of a section measured by a chosen definition, on the nominal and on the measured outline.
 * @param at fraction or set-back of a list quantity
 * @throws plan/definition for an unknown definition or parameter
 */
export function askOne(
  contexts: SectionContexts,
  entry: CatalogueEntry & { quantity: NonNullable<CatalogueEntry['quantity']> },
  at: number | undefined,
  choice: Pick<Choice, 'definition' | 'parameters'>,
): Asked {
  const definition = definitionOf(entry.quantity, choice.definition);
  const parameters = completeParameters(definition, choice.parameters);
  const { nominal, measured, carried } = contexts;
  const place = { edge: entry.edge, flank: entry.flank, at: at ?? null };
  const against = nominal && carried ? { nominal, carried } : null;
  return {
    of: entry.of,
    ...(at === undefined ? {} : { at }),
    definition: definition.id,
    parameters,
    nominal: nominal && definition.measure({ context: nominal, ...place, against: null }, parameters),
    measured: measured && definition.measure({ context: measured, ...place, against }, parameters),
  };
}

/** True where an entry has definitions to choose from. */
export function hasChoice(
  entry: CatalogueEntry,
): entry is CatalogueEntry & { quantity: NonNullable<CatalogueEntry['quantity']> } {
  return entry.quantity !== null;
}

/**
 * Returns the sections with what the rows ask for beyond their measures: quantities by chosen definitions, quantities
 * that are measured only when asked for, and lists at other places. What was asked before is dropped.
 * @param contexts of the same sections, in the same order
 */
export function askSections(
  sections: readonly SectionResult[],
  contexts: readonly SectionContexts[],
  plan: Plan | null,
  definitions: readonly PlanDefinition[],
): SectionResult[] {
  const rows = wantedRows(sections, false, plan, definitions);
  return sections.map((section, i) => {
    const { asked: _, ...bare } = section;
    const asked: Asked[] = [];
    const seen = new Set<string>();
    for (const { item, entry } of rows) {
      if (!hasChoice(entry) || (item.sections && !item.sections.includes(section.id))) continue;
      const choice = sectionChoice(item, entry, definitions, section, plan);
      if (!isAsked(section, entry, item.at, choice)) continue;
      const one = askOne(contexts[i], entry, item.at, choice);
      const key = JSON.stringify([one.of, one.at ?? null, one.definition, parametersKey(one.parameters)]);
      if (!seen.has(key)) asked.push(one);
      seen.add(key);
    }
    return asked.length > 0 ? { ...bare, asked } : bare;
  });
}

function isAsked(section: SectionResult, entry: CatalogueEntry, at: number | undefined, choice: Choice): boolean {
  if (choice.chosen || entry.source === null) return true;
  return section.measured !== undefined && measuredIn(section, entry, at) === undefined;
}

/** The asked record of a row, or undefined where the row stands on the section's own measures. */
export function askedFor(
  section: SectionResult,
  entry: CatalogueEntry,
  at: number | undefined,
  choice: Choice,
): Asked | undefined {
  if (!section.asked || !hasChoice(entry) || !isAsked(section, entry, at, choice)) return undefined;
  const parameters = parametersKey(
    completeParameters(definitionOf(entry.quantity, choice.definition), choice.parameters),
  );
  return section.asked.find(
    (asked) =>
      asked.of === entry.of &&
      asked.at === at &&
      asked.definition === choice.definition &&
      parametersKey(asked.parameters) === parameters,
  );
}
