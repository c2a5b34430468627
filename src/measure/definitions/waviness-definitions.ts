import type { Definition } from './definition.ts';

export const wavinessDefinitions: readonly Definition[] = [];
