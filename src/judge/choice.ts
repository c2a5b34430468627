import type { Definition } from '../measure/definitions/definition.ts';
import { definitionsOf } from '../measure/definitions/definitions.ts';
import type { PlanDefinition } from '../model/plan.ts';
import type { Parameters } from '../model/value.ts';
import type { CatalogueEntry } from './catalogue.ts';

/** How a row is to be measured. */
export interface Choice {
  definition: string;
  /** Parameters given or of the catalogue; those of the definition that are not among them keep their defaults. */
  parameters: Parameters;
  /** True where somebody chose another definition or a parameter. */
  chosen: boolean;
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
  if (own.definition !== undefined) return made(entry, own.definition, own.parameters ?? {});
  const whole = definitions.find((candidate) => candidate.of === entry.of);
  return made(entry, whole?.definition ?? entry.definition, { ...whole?.parameters, ...own.parameters });
}

function made(entry: CatalogueEntry, definition: string, given: Parameters): Choice {
  const own = definition === entry.definition;
  return {
    definition,
    parameters: own ? { ...entry.parameters, ...given } : given,
    chosen: !own || Object.keys(given).length > 0,
  };
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
