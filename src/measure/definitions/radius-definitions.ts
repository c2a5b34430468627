import type { Definition } from './definition.ts';

export const radiusDefinitions: readonly Definition[] = [];
