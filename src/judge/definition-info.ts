import type { Definition } from '../measure/definitions/definition.ts';

/** What a reader needs to know of a definition to choose it: everything but the computation. */
export type DefinitionInfo = Pick<Definition, 'id' | 'name' | 'meaning' | 'unit' | 'parameters'>;

/** The definitions each quantity of the catalogue may be measured by, its own default first. */
export type DefinitionsByPath = Record<string, DefinitionInfo[]>;
