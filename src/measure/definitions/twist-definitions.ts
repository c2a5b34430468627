import type { Definition } from './definition.ts';

export const twistDefinitions: readonly Definition[] = [];
