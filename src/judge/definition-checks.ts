import { CamberwrightError } from '../error.ts';
import type { Definition } from '../measure/definitions/definition.ts';
import { completeParameters } from '../measure/definitions/definitions.ts';
import type { Plan, PlanCharacteristic, PlanDefinition } from '../model/plan.ts';
import type { Parameters } from '../model/value.ts';
import { CATALOGUE, type CatalogueEntry, catalogueEntry } from './catalogue.ts';
import { allowedDefinitions, choiceOf } from './choice.ts';
import { nearestWord } from './nearest-word.ts';

function refuse(name: string, path: string, message: string, remedy: string): never {
  throw new CamberwrightError('plan/definition', `${path}: ${message}`, { where: `${name}, ${path}`, remedy });
}

/** The entry of a path. @throws plan/value with the nearest known path */
export function knownEntry(of: string, name: string, path: string): CatalogueEntry {
  const entry = catalogueEntry(of);
  if (entry) return entry;
  const known = CATALOGUE.map((candidate) => candidate.of);
  throw new CamberwrightError('plan/value', `${path}: unknown quantity "${of}".`, {
    where: `${name}, ${path}`,
    remedy: `Did you mean "${nearestWord(of, known)}"?`,
  });
}

/**
 * Checks choices for whole quantities.
 * @param path of the list, such as `definitions`
 * @throws plan/value for an unknown quantity, plan/definition for an unknown definition, parameter or a second choice
 */
export function checkDefinitions(definitions: readonly PlanDefinition[], name: string, path: string): void {
  definitions.forEach((item, i) => {
    const here = `${path}[${i}]`;
    const entry = knownEntry(item.of, name, `${here}.of`);
    if (definitions.slice(0, i).some((other) => other.of === item.of))
      refuse(name, `${here}.of`, `"${item.of}" has two definitions.`, 'Keep one of them.');
    checkParameters(allowed(entry, item.definition, name, here), item.parameters, name, here);
  });
}

/**
 * Checks choices made beside a plan, and that what the plan's characteristics say of their parameters still holds.
 * @param name of where the choices come from, for messages
 * @throws plan/value, plan/definition
 */
export function checkChoices(definitions: readonly PlanDefinition[], plan: Plan | null, name: string): void {
  checkDefinitions(definitions, name, 'definitions');
  plan?.characteristics?.forEach((item, i) => {
    checkOwnDefinition(item, catalogueEntry(item.of)!, definitions, name, `characteristics[${i}]`);
  });
}

/** Checks what a characteristic says of its definition. @throws plan/definition */
export function checkOwnDefinition(
  item: PlanCharacteristic,
  entry: CatalogueEntry,
  definitions: readonly PlanDefinition[],
  name: string,
  path: string,
): void {
  if (item.definition === undefined && item.parameters === undefined) return;
  const definition = allowed(entry, choiceOf(item, entry, definitions).definition, name, path);
  checkParameters(definition, item.parameters, name, path);
}

/** The definition of an id among those of an entry. @throws plan/definition */
function allowed(entry: CatalogueEntry, id: string, name: string, path: string): Definition {
  const choices = allowedDefinitions(entry);
  const ids = choices.map((definition) => definition.id);
  if (ids.length === 0)
    refuse(name, `${path}.definition`, `"${entry.of}" has no choice of definition.`, 'Take the definition out.');
  const found = choices.find((definition) => definition.id === id);
  return (
    found ??
    refuse(
      name,
      `${path}.definition`,
      `"${id}" is no definition of "${entry.of}".`,
      `Did you mean "${nearestWord(id, ids)}"? Known: ${ids.join(', ')}.`,
    )
  );
}

function checkParameters(definition: Definition, given: Parameters = {}, name: string, path: string): void {
  const known = definition.parameters.map((spec) => spec.name);
  for (const [key, value] of Object.entries(given)) {
    const here = `${path}.parameters.${key}`;
    const nearest = nearestWord(key, known);
    if (nearest !== null && !known.includes(key))
      refuse(
        name,
        here,
        `${definition.id} has no parameter "${key}".`,
        `Did you mean "${nearest}"? Known: ${known.join(', ')}.`,
      );
    try {
      completeParameters(definition, { [key]: value });
    } catch (error) {
      if (!(error instanceof CamberwrightError)) throw error;
      refuse(name, here, error.message, error.remedy);
    }
  }
}
