import type { Extension } from '../camber-point.ts';
import { type Axis, axialChord, chordLength, staggerAngle } from '../chord-values.ts';
import type { ChordId } from '../reference-chord.ts';
import type { Definition, ParameterSpec } from './definition.ts';

const EXTENSION: ParameterSpec = {
  name: 'extension',
  label: 'Extension of the line of centres',
  choices: ['straight', 'arc'],
  default: 'straight',
};

/** Axis an angle is counted from. */
export const axisSpec = (name: string): ParameterSpec => {
  return { name, label: 'Counted from', choices: ['axial', 'tangential'], default: 'axial' };
};

export const SIGN = 'From axial, positive from +X to +Y; from tangential, the complement to 90 degrees.';

const CHORDS: { id: ChordId; name: string; meaning: string }[] = [
  { id: 'CH-FAR', name: 'Farthest points', meaning: 'The longest distance between two points of the outline.' },
  {
    id: 'CH-BT',
    name: 'Straight edge',
    meaning:
      'Extent along the line that rests on both edges on the concave side. Not applicable where that side is flat or convex.',
  },
  {
    id: 'CH-CAM',
    name: 'Ends of the line of centres',
    meaning:
      'Distance between the places where the line of centres, carried on straight or as the circle through its centres from 2 to 12 % of its length, meets the outline.',
  },
];

const lengths: Definition[] = CHORDS.map(({ id, name, meaning }) => ({
  id,
  quantity: 'chord',
  name,
  meaning,
  unit: 'mm',
  parameters: id === 'CH-CAM' ? [EXTENSION] : [],
  measure: ({ context }, { extension }) => chordLength(context, id, extension as Extension | undefined),
}));

const axial: Definition = {
  id: 'CH-AX',
  quantity: 'chord',
  name: 'Extent along an axis',
  meaning: 'Extent of the outline along X (axial) or Y (tangential).',
  unit: 'mm',
  parameters: [{ name: 'direction', label: 'Along', choices: ['axial', 'tangential'], default: 'axial' }],
  measure: ({ context }, { direction }) => axialChord(context, direction as Axis),
};

const staggers: Definition[] = CHORDS.map(({ id, name, meaning }) => ({
  id,
  quantity: 'stagger',
  name,
  meaning: `Direction of the chord from the leading to the trailing edge. ${SIGN} ${meaning}`,
  unit: 'deg',
  parameters: id === 'CH-CAM' ? [EXTENSION, axisSpec('from')] : [axisSpec('from')],
  measure: ({ context }, { extension, from }) =>
    staggerAngle(context, id, from as Axis, extension as Extension | undefined),
}));

/** Chord and stagger. CH-AX is an extent along an axis and so has no stagger. */
export const chordDefinitions: readonly Definition[] = [...lengths, axial, ...staggers];
