import { measured, type Parameters, unmeasured, type Value } from '../../model/value.ts';
import { staggerAngle } from '../chord-values.ts';
import type { ChordId } from '../reference-chord.ts';
import { coveredShare, type SectionContext } from '../section-context.ts';
import { MOTION_BASES, type MotionBasis, type PivotMotion, pivotMotion, rigidMotion } from '../section-motion.ts';
import type { Definition, MeasuringPlace, ParameterSpec } from './definition.ts';

const DEG = 180 / Math.PI;
/** Share of the outline below which no motion is stated. */
const LEAST_SHARE = 0.5;
const NO_NOMINAL = 'It is a change against the nominal; there is none to compare with.';

/** Chords that have a direction. */
const LINES: readonly ChordId[] = ['CH-FAR', 'CH-BT', 'CH-CAM'];

const CHORD: ParameterSpec = {
  name: 'chord',
  label: 'Chord',
  choices: [...LINES, 'CH-AX'],
  default: 'CH-FAR',
};
const EDGES: ParameterSpec = { name: 'edges', label: 'Edges', choices: ['included', 'excluded'], default: 'included' };
const FARTHEST = 1e5;
const DISPLACEMENT: readonly ParameterSpec[] = [
  { name: 'basis', label: 'Basis', choices: MOTION_BASES, default: 'rigid fit' },
  { name: 'pivotX', label: 'Pivot X', unit: 'mm', default: 0, least: -FARTHEST, most: FARTHEST },
  { name: 'pivotY', label: 'Pivot Y', unit: 'mm', default: 0, least: -FARTHEST, most: FARTHEST },
];

function tooLittle(context: SectionContext): string | null {
  const share = coveredShare(context);
  return share < LEAST_SHARE ? `Only ${Math.round(100 * share)} % of the outline is measured.` : null;
}

function fitTwist(place: MeasuringPlace, parameters: Parameters): Value {
  const none = (status: 'not-measured' | 'not-applicable' | 'not-converged', reason: string) =>
    unmeasured(status, reason, 'deg', 'TWIST-FIT', { parameters });
  if (!place.against) return none('not-applicable', NO_NOMINAL);
  const poor = tooLittle(place.context);
  if (poor) return none('not-measured', poor);
  const { nominal, carried } = place.against;
  const fit = rigidMotion(nominal, carried, parameters.edges === 'excluded' ? 'excluded' : 'included');
  if (!fit) return none('not-measured', 'The fit of the section found no motion.');
  if (!fit.converged) return none('not-converged', 'The fit of the section did not settle.');
  const u = fit.uTwist === null ? null : fit.uTwist * DEG;
  const evidence = { points: fit.count, rms: fit.rms };
  return measured(fit.twist * DEG, u, 'deg', 'TWIST-FIT', { parameters, evidence });
}

function chordTwist(place: MeasuringPlace, parameters: Parameters): Value {
  const definition = 'TWIST-CHORD';
  const chord = LINES.find((id) => id === parameters.chord);
  const none = (status: 'not-measured' | 'not-applicable' | 'not-converged', reason: string) =>
    unmeasured(status, reason, 'deg', definition, { parameters });
  if (!chord) return none('not-applicable', 'The extent along X has no direction of its own.');
  if (!place.against) return none('not-applicable', NO_NOMINAL);
  const own = staggerAngle(place.context, chord, 'axial');
  const nominal = staggerAngle(place.against.nominal, chord, 'axial');
  for (const each of [own, nominal])
    if (each.value === null)
      return none(each.status === 'ok' ? 'not-converged' : each.status, each.reason ?? 'The chord was not found.');
  const turn = (own.value as number) - (nominal.value as number);
  return measured(turn - 360 * Math.round(turn / 360), own.u, 'deg', definition, { parameters });
}

/** Unit direction of a component of the displacement. */
type Direction = (nominal: SectionContext) => [number, number];

/** Direction of the nominal's chord CH-FAR from leading to trailing edge. */
const alongChord: Direction = ({ far }) => [
  (far.trailingX - far.leadingX) / far.length,
  (far.trailingY - far.leadingY) / far.length,
];

/** Direction normal to it, towards the suction side. */
const normalToChord: Direction = (nominal) => {
  const [x, y] = alongChord(nominal);
  return nominal.section.edges.firstSide === 'pressure' ? [-y, x] : [y, -x];
};

function displacement(id: string, name: string, meaning: string, direction: Direction): Definition {
  return {
    id,
    quantity: 'displacement',
    name,
    meaning:
      `${meaning} Rigid fit: best fit of all points of the section; a form fault of an edge pulls it. Centroid: shift of ` +
      'the centre of area; a change of thickness moves it. Mid camber line: shift of the middle of the line of centres, ' +
      'which edges too sharp or too blunt and changes of thickness leave in place: the best for bow, lean and sweep, but ' +
      'it needs points at both edges.',
    unit: 'mm',
    parameters: DISPLACEMENT,
    measure: (place, parameters) => {
      const none = (status: 'not-measured' | 'not-applicable' | 'not-converged', reason: string) =>
        unmeasured(status, reason, 'mm', id, { parameters });
      if (!place.against) return none('not-applicable', NO_NOMINAL);
      const poor = tooLittle(place.context);
      if (poor) return none('not-measured', poor);
      const { nominal, carried } = place.against;
      const pivot = [Number(parameters.pivotX), Number(parameters.pivotY)] as const;
      const motion = pivotMotion(nominal, place.context, carried, parameters.basis as MotionBasis, pivot);
      if (typeof motion === 'string') return none('not-measured', motion);
      if (!motion.converged) return none('not-converged', 'The fit of the section did not settle.');
      const [x, y] = direction(nominal);
      const value = x * motion.dx + y * motion.dy;
      return measured(value, alongUncertainty(motion, x, y), 'mm', id, { parameters });
    },
  };
}

function alongUncertainty({ uDx, uDy, uXY }: PivotMotion, x: number, y: number): number | null {
  if (uDx === null || uDy === null) return null;
  return Math.sqrt(Math.max(0, (x * uDx) ** 2 + (y * uDy) ** 2 + 2 * x * y * uXY));
}

export const twistDefinitions: readonly Definition[] = [
  {
    id: 'TWIST-FIT',
    quantity: 'twist',
    name: 'Turn of the best rigid fit',
    meaning:
      'Turn of the rigid motion that carries the nominal section onto the measured points with least squares. With the ' +
      'edges excluded an edge’s form does not turn it, but a cambered section may slide along its own arc.',
    unit: 'deg',
    parameters: [EDGES],
    measure: fitTwist,
  },
  {
    id: 'TWIST-CHORD',
    quantity: 'twist',
    name: 'Turn of a chord',
    meaning:
      'Stagger of the measured section less that of the nominal, both by the same chord. A grown edge turns CH-BT ' +
      'though the section has not turned.',
    unit: 'deg',
    parameters: [CHORD],
    measure: chordTwist,
  },
  displacement('DISPLACEMENT-X', 'Displacement along X', 'Shift of the pivot along X.', () => [1, 0]),
  displacement('DISPLACEMENT-Y', 'Displacement along Y', 'Shift of the pivot along Y.', () => [0, 1]),
  displacement(
    'DISPLACEMENT-CHORD',
    'Displacement along the chord',
    'Shift of the pivot along the nominal CH-FAR, positive towards the trailing edge.',
    alongChord,
  ),
  displacement(
    'DISPLACEMENT-NORMAL',
    'Displacement normal to the chord',
    'Shift of the pivot normal to the nominal CH-FAR, positive towards the suction side.',
    normalToChord,
  ),
];
