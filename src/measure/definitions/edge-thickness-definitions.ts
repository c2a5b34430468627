import { unmeasured } from '../../model/value.ts';
import { type EdgeCut, edgeThickness, type SetbackRule } from '../edge-thickness.ts';
import { named, withoutEdge } from './at-edge.ts';
import type { Definition } from './definition.ts';

/** The set-back itself is the place of the value. */
function thickness(id: EdgeCut, name: string, meaning: string, usual: SetbackRule): Definition {
  const head: Omit<Definition, 'measure'> = {
    id,
    quantity: 'edge-thickness',
    name,
    meaning,
    unit: 'mm',
    parameters: [
      { name: 'from', label: 'Set-back from', choices: ['CH-FAR', 'EP-CAM', 'nose'], default: usual.from },
      { name: 'along', label: 'Set-back along', choices: ['chord', 'camber'], default: usual.along },
    ],
  };
  return {
    ...head,
    measure: (place, parameters) => {
      const { context, edge, at } = place;
      if (edge === null) return withoutEdge(place, head, parameters);
      if (at === null || !(at > 0))
        return unmeasured('not-applicable', 'It is measured at a set-back from the edge.', 'mm', id, { parameters });
      const rule: SetbackRule = {
        from: parameters.from === 'EP-CAM' || parameters.from === 'nose' ? parameters.from : 'CH-FAR',
        along: parameters.along === 'camber' ? 'camber' : 'chord',
      };
      return named(id, parameters, edgeThickness(context, edge, at, id, rule));
    },
  };
}

export const edgeThicknessDefinitions: readonly Definition[] = [
  thickness('T-ORD', 'Cut across the chord', 'Distance between both sides along a cut normal to the longest chord.', {
    from: 'CH-FAR',
    along: 'chord',
  }),
  thickness(
    'T-CAM',
    'Cut across the camber line',
    'Distance between both sides along a cut normal to the line of centres.',
    { from: 'EP-CAM', along: 'camber' },
  ),
  thickness('T-MIC', 'Inscribed circle', 'Diameter of the inscribed circle centred at the set-back.', {
    from: 'EP-CAM',
    along: 'camber',
  }),
];
