import type { Definition } from './definition.ts';

export const edgeProfileDefinitions: readonly Definition[] = [];
