import { AREA_QUANTITIES, type AreaId, areaValue } from '../area-values.ts';
import type { Definition } from './definition.ts';

/** Area, perimeter, centroid and second moments. */
export const areaDefinitions: readonly Definition[] = (Object.keys(AREA_QUANTITIES) as AreaId[]).map((id) => ({
  ...AREA_QUANTITIES[id],
  id,
  quantity: 'area-property',
  parameters: [],
  measure: ({ context }) => areaValue(context, id),
}));
