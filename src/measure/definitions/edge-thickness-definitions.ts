import type { Definition } from './definition.ts';

export const edgeThicknessDefinitions: readonly Definition[] = [];
