import type { Definition } from './definition.ts';

export const throatDefinitions: readonly Definition[] = [];
