import type { Definition } from './definition.ts';

export const camberDefinitions: readonly Definition[] = [];
