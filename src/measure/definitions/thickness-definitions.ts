import { unmeasured, type Value } from '../../model/value.ts';
import type { ChordId } from '../reference-chord.ts';
import { type CutAt, camberCuts, chordCuts, cutValue, largestCut } from '../thickness-cuts.ts';
import { type Along, largestThickness, thickestPlace, thicknessAt } from '../thickness-values.ts';
import type { Definition, MeasuringPlace, ParameterSpec } from './definition.ts';

const ALONG: ParameterSpec = {
  name: 'along',
  label: 'Fraction counted along',
  choices: ['centres', 'chord'],
  default: 'centres',
};

const CHORD: ParameterSpec = {
  name: 'chord',
  label: 'Chord',
  choices: ['CH-FAR', 'CH-CAM', 'CH-BT', 'CENTRES'],
  default: 'CH-FAR',
};

const INSCRIBED = 'Diameter of the circle that touches both flanks';
const ORDINATE = 'Straight cut perpendicular to a chord';
const ACROSS = 'Straight cut perpendicular to the line of centres';

function atFraction(place: MeasuringPlace, definition: string, measure: (fraction: number) => Value): Value {
  if (place.at !== null) return measure(place.at);
  return unmeasured('not-applicable', 'A thickness needs a fraction; none is named.', 'mm', definition);
}

/** Cuts of a definition handed on, or the record that says why there are none. */
function withCuts(place: MeasuringPlace, chord: unknown, measure: (cuts: CutAt) => Value): Value {
  if (typeof chord === 'string') {
    const cuts = chordCuts(place.context, chord as ChordId);
    if (typeof cuts === 'function') return measure(cuts);
    return unmeasured(cuts.status, cuts.reason, 'mm', 'T-ORD', { parameters: { chord }, evidence: cuts.evidence });
  }
  const cuts = camberCuts(place.context);
  return cuts ? measure(cuts) : unmeasured('not-converged', 'No line of centres was found.', 'mm', 'T-CAM');
}

const atFractions: Definition[] = [
  {
    id: 'T-MIC',
    quantity: 'thickness',
    name: 'Inscribed circle',
    meaning: `${INSCRIBED} at a fraction of the line of centres or of the longest chord.`,
    unit: 'mm',
    parameters: [ALONG],
    measure: (place, { along }) =>
      atFraction(place, 'T-MIC', (fraction) => thicknessAt(place.context, fraction, along as Along)),
  },
  {
    id: 'T-ORD',
    quantity: 'thickness',
    name: 'Cut across the chord',
    meaning: `${ORDINATE} at a fraction of it.`,
    unit: 'mm',
    parameters: [CHORD],
    measure: (place, { chord }) =>
      atFraction(place, 'T-ORD', (fraction) =>
        withCuts(place, chord, (cuts) => cutValue(place.context, cuts, fraction, 'T-ORD', { fraction, chord })),
      ),
  },
  {
    id: 'T-CAM',
    quantity: 'thickness',
    name: 'Cut across the line of centres',
    meaning: `${ACROSS} at a fraction of it.`,
    unit: 'mm',
    parameters: [],
    measure: (place) =>
      atFraction(place, 'T-CAM', (fraction) =>
        withCuts(place, null, (cuts) => cutValue(place.context, cuts, fraction, 'T-CAM', { fraction })),
      ),
  },
];

const largest: Definition[] = [
  {
    id: 'T-MIC',
    quantity: 'thickness-max',
    name: 'Inscribed circle',
    meaning: `${INSCRIBED}, at its largest.`,
    unit: 'mm',
    parameters: [],
    measure: ({ context }) => largestThickness(context),
  },
  {
    id: 'T-ORD',
    quantity: 'thickness-max',
    name: 'Cut across the chord',
    meaning: `${ORDINATE}, at its longest.`,
    unit: 'mm',
    parameters: [CHORD],
    measure: (place, { chord }) =>
      withCuts(place, chord, (cuts) => largestCut(place.context, cuts, 'T-ORD', { chord })),
  },
  {
    id: 'T-CAM',
    quantity: 'thickness-max',
    name: 'Cut across the line of centres',
    meaning: `${ACROSS}, at its longest.`,
    unit: 'mm',
    parameters: [],
    measure: (place) => withCuts(place, null, (cuts) => largestCut(place.context, cuts, 'T-CAM', {})),
  },
  {
    id: 'T-POS',
    quantity: 'thickness-max',
    name: 'Place of the largest circle',
    meaning:
      'Fraction of the line of centres, or of the longest chord, at which the largest inscribed circle lies. Not applicable where the thickness stays the same over a long stretch.',
    unit: '1',
    parameters: [ALONG],
    measure: ({ context }, { along }) => thickestPlace(context, along as Along),
  },
];

/** Thickness at a fraction, and the greatest one. */
export const thicknessDefinitions: readonly Definition[] = [...atFractions, ...largest];
