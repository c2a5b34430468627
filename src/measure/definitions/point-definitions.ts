import type { Definition } from './definition.ts';

export const pointDefinitions: readonly Definition[] = [];
