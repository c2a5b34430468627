import type { Definition } from '../measure/definitions/definition.ts';
import { CATALOGUE } from './catalogue.ts';
import { allowedDefinitions } from './choice.ts';
import type { DefinitionInfo, DefinitionsByPath } from './definition-info.ts';

/** What each quantity that has a choice may be measured by, its own definition first. */
export function definitionsByPath(): DefinitionsByPath {
  const listed = CATALOGUE.filter((entry) => entry.quantity !== null);
  return Object.fromEntries(listed.map((entry) => [entry.of, allowedDefinitions(entry).map(infoOf)]));
}

function infoOf({ id, name, meaning, unit, parameters }: Definition): DefinitionInfo {
  return { id, name, meaning, unit, parameters: [...parameters] };
}
