import type { Definition } from './definition.ts';

export const edgeFormDefinitions: readonly Definition[] = [];
