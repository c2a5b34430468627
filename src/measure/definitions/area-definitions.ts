import type { Definition } from './definition.ts';

export const areaDefinitions: readonly Definition[] = [];
