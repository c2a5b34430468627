import type { Plan, PlanCharacteristic, PlanDefinition } from '../model/plan.ts';
import type { Asked, SectionResult } from '../model/results.ts';
import { unmeasured, type Value } from '../model/value.ts';
import { askedFor } from './ask-sections.ts';
import type { CatalogueEntry } from './catalogue.ts';
import type { RowSubject } from './judge-row.ts';
import { sectionChoice } from './section-choice.ts';
import { sizeOf } from './sizes.ts';
import { measuredIn, valueIn } from './values-of-path.ts';

/** What a row of a section judges: the value asked for by its definition, else that of the section's own measures. */
export function sectionSubject(
  section: SectionResult,
  item: PlanCharacteristic,
  entry: CatalogueEntry,
  definitions: readonly PlanDefinition[],
  plan: Plan | null,
): RowSubject {
  const choice = sectionChoice(item, entry, definitions, section, plan);
  const asked = askedFor(section, entry, item.at, choice);
  if (asked) return askedSubject(section, asked, entry);
  const own = valueIn(section.nominal, entry, item.at);
  const found = measuredIn(section, entry, item.at);
  return subject(section, found, own, own?.unit ?? entry.unit, choice.definition);
}

/** The same for a value asked for. */
export function askedSubject(section: SectionResult, asked: Asked, entry: CatalogueEntry): RowSubject {
  const { measured, nominal, definition, parameters } = asked;
  return { ...subject(section, measured, nominal, nominal?.unit ?? entry.unit, definition), parameters };
}

function subject(
  section: SectionResult,
  found: Value | null | undefined,
  own: Value | null | undefined,
  unit: string,
  definition: string,
): RowSubject {
  const reason = section.measured ? 'This quantity was not asked for at this place.' : 'The section was not measured.';
  return {
    section,
    value: found ?? unmeasured('not-measured', reason, unit, definition),
    parameters: undefined,
    own: own?.value ?? null,
    size: sizeOf(section, found ?? null),
  };
}
