import type { Parameters } from '../../model/value.ts';
import { camberEdgePoint, curvaturePoint, type EdgePoint, extremePoint, farPoint } from '../edge-point.ts';
import type { EdgeContext, SectionContext } from '../section-context.ts';
import { edgeDefinition } from './at-edge.ts';
import type { Definition, ParameterSpec } from './definition.ts';

type Find = (context: SectionContext, edge: EdgeContext, parameters: Parameters) => EdgePoint;
interface PointWay {
  id: string;
  name: string;
  meaning: string;
  parameters: readonly ParameterSpec[];
  find: Find;
}

const WAYS: readonly PointWay[] = [
  {
    id: 'EP-CAM',
    name: 'End of the camber line',
    meaning: 'Where the line of centres, carried on straight or with its own bend, meets the outline.',
    parameters: [{ name: 'extension', label: 'Carried on', choices: ['straight', 'arc'], default: 'straight' }],
    find: (context, edge, { extension }) => camberEdgePoint(context, edge, extension === 'arc' ? 'arc' : 'straight'),
  },
  {
    id: 'EP-FAR',
    name: 'End of the longest chord',
    meaning: 'End of the longest distance between two points of the outline.',
    parameters: [],
    find: (context, edge) => farPoint(context, edge.which),
  },
  {
    id: 'EP-EXT',
    name: 'Farthest along a direction',
    meaning:
      'Point of the outline farthest along the chord or along the axis X. Along the chord, chord and point are found together: the end of the longest chord.',
    parameters: [{ name: 'direction', label: 'Direction', choices: ['chord', 'axial'], default: 'chord' }],
    find: (context, edge, { direction }) =>
      extremePoint(context, edge.which, direction === 'axial' ? 'axial' : 'chord'),
  },
  {
    id: 'EP-CUR',
    name: 'Greatest curvature',
    meaning:
      'Place of the greatest curvature of the edge. For information, not for conformity: noise makes it wander, and on a circular edge it is undefined.',
    parameters: [],
    find: curvaturePoint,
  },
];

const coordinate = (axis: 'x' | 'y'): Definition[] =>
  WAYS.map(({ find, ...way }) =>
    edgeDefinition(
      { ...way, quantity: axis === 'x' ? 'edge-point-x' : 'edge-point-y', unit: 'mm' },
      (context, edge, parameters) => find(context, edge, parameters)[axis],
    ),
  );

export const pointDefinitions: readonly Definition[] = [...coordinate('x'), ...coordinate('y')];
