import type { Definition } from './definition.ts';

export const thicknessDefinitions: readonly Definition[] = [];
