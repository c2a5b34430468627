import type { Definition } from '../measure/definitions/definition.ts';
import { definitionsOf } from '../measure/definitions/definitions.ts';
import type { PlanDefinition } from '../model/plan.ts';
import type { Parameters } from '../model/value.ts';
import type { CatalogueEntry } from './catalogue.ts';

/** How a row is to be measured, as somebody asks for it. */
export interface Choice {
  definition: string;
  /** Parameters as given; those of the definition that are not among them keep their defaults. */
  parameters: Parameters;
}

/** What a plan's characteristic says of its own definition. */
export interface OwnChoice {
  definition?: string | undefined;
  parameters?: Parameters | undefined;
}

/**
 * The definition of a row: its own, else that of the quantity, else that of the catalogue. Parameters of the row add to
 * those of the quantity unless the row names a definition itself.
 * @param definitions choices for whole quantities
 */
export function choiceOf(own: OwnChoice, entry: CatalogueEntry, definitions: readonly PlanDefinition[]): Choice {
  if (own.definition !== undefined) return { definition: own.definition, parameters: own.parameters ?? {} };
  const whole = definitions.find((candidate) => candidate.of === entry.of);
  return {
    definition: whole?.definition ?? entry.definition,
    parameters: { ...whole?.parameters, ...own.parameters },
  };
}

/** True where the choice is not simply the quantity's own definition. */
export function differs(choice: Choice, entry: CatalogueEntry): boolean {
  return choice.definition !== entry.definition || Object.keys(choice.parameters).length > 0;
}

/** The definitions an entry may be measured by, its own first; empty where there is no choice. */
export function allowedDefinitions(entry: CatalogueEntry): Definition[] {
  if (entry.quantity === null) return [];
  const all = definitionsOf(entry.quantity);
  const own = all.filter((definition) => definition.id === entry.definition);
  return entry.fixed ? own : [...own, ...all.filter((definition) => definition.id !== entry.definition)];
}

/** Parameters of an asked quantity as one text, whatever the order they were given in. */
export function parametersKey(parameters: Parameters): string {
  return JSON.stringify(Object.entries(parameters).sort(([a], [b]) => (a < b ? -1 : 1)));
}
