import type { Definition } from './definition.ts';

export const chordDefinitions: readonly Definition[] = [];
