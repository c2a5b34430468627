import { type Parameters, unmeasured, type Value } from '../../model/value.ts';
import { endAngle, endTurn } from '../camber-angles.ts';
import { arcCamberAngle, type CamberChord, camberMax, camberPlace } from '../camber-height.ts';
import type { CamberWindow } from '../camber-window.ts';
import type { Axis } from '../chord-values.ts';
import { windowAngle, windowTurn } from '../metal-angle-window.ts';
import { axisSpec, SIGN } from './chord-definitions.ts';
import type { Definition, EdgeName, MeasuringPlace, ParameterSpec } from './definition.ts';

const WINDOW: readonly ParameterSpec[] = [
  { name: 'from', label: 'Window from (% of the line of centres)', unit: '1', default: 2, least: 0, most: 45 },
  { name: 'to', label: 'Window to (% of the line of centres)', unit: '1', default: 12, least: 1, most: 50 },
  { name: 'form', label: 'Form over the window', choices: ['quadratic', 'circle'], default: 'quadratic' },
];

const CHORD: ParameterSpec = { name: 'chord', label: 'From', choices: ['CENTRES', 'CH-CAM'], default: 'CENTRES' };
const CHORDS = 'CENTRES is the line through both end-circle centres.';

function windowOf({ from, to, form }: Parameters): CamberWindow {
  return { from: Number(from), to: Number(to), form: form === 'circle' ? 'circle' : 'quadratic' };
}

function atEdge(place: MeasuringPlace, definition: string, measure: (edge: EdgeName) => Value): Value {
  if (place.edge) return measure(place.edge);
  return unmeasured('not-applicable', 'A metal angle belongs to an edge; none is named.', 'deg', definition);
}

const metalAngles: Definition[] = [
  {
    id: 'MA-END',
    quantity: 'metal-angle',
    name: 'At the end circle',
    meaning: `Direction of the line of centres, leading to trailing, at the centre of its end circle. ${SIGN}`,
    unit: 'deg',
    parameters: [axisSpec('axis')],
    measure: (place, { axis }) => atEdge(place, 'MA-END', (edge) => endAngle(place.context, edge, axis as Axis)),
  },
  {
    id: 'MA-WIN',
    quantity: 'metal-angle',
    name: 'Extrapolated from a window',
    meaning: `Direction at the edge point of the smooth line fitted to the line of centres over a window near the edge. ${SIGN}`,
    unit: 'deg',
    parameters: [...WINDOW, axisSpec('axis')],
    measure: (place, parameters) =>
      atEdge(place, 'MA-WIN', (edge) =>
        windowAngle(place.context, edge, windowOf(parameters), parameters.axis as Axis),
      ),
  },
];

const camberAngles: Definition[] = [
  {
    id: 'MA-END',
    quantity: 'camber-angle',
    name: 'Between the end circles',
    meaning: 'Leading minus trailing direction of the line of centres at the centres of its end circles.',
    unit: 'deg',
    parameters: [],
    measure: ({ context }) => endTurn(context),
  },
  {
    id: 'MA-WIN',
    quantity: 'camber-angle',
    name: 'Extrapolated from windows',
    meaning: 'Leading minus trailing metal angle, both extrapolated from windows near the edges.',
    unit: 'deg',
    parameters: WINDOW,
    measure: ({ context }, parameters) => windowTurn(context, windowOf(parameters)),
  },
  {
    id: 'CAMBER-ARC',
    quantity: 'camber-angle',
    name: 'Of the equal arc',
    meaning:
      'Turning of the circular arc with the same height f over the line c through both end-circle centres: 4 atan(2 f / c).',
    unit: 'deg',
    parameters: [],
    measure: ({ context }) => arcCamberAngle(context),
  },
];

const heights: Definition[] = [
  {
    id: 'F-MAX',
    quantity: 'camber-max',
    name: 'Height',
    meaning: `Largest distance of the line of centres from a chord. ${CHORDS}`,
    unit: 'mm',
    parameters: [CHORD],
    measure: ({ context }, { chord }) => camberMax(context, chord as CamberChord),
  },
  {
    id: 'F-POS',
    quantity: 'camber-max',
    name: 'Place of the height',
    meaning: `Place of the largest camber as a fraction of the chord, from the leading edge. ${CHORDS}`,
    unit: '1',
    parameters: [CHORD],
    measure: ({ context }, { chord }) => camberPlace(context, chord as CamberChord),
  },
];

/** Metal angles, camber angle and largest camber. */
export const camberDefinitions: readonly Definition[] = [...metalAngles, ...camberAngles, ...heights];
