import type { Plan } from '../src/model/plan.ts';
import { nominalBlade } from './blade.ts';
import { rootTargets } from './blank-root.ts';
import { nominalSurfacePoint } from './deviation.ts';
import { LEADING } from './section-form.ts';

/** Set-back of the sample plan's edge zones (mm). */
const EDGE_ZONE = 2.5;

/** Engine of the sample blade: its axis runs along X below the root. */
const ENGINE_RADIUS_AT_ROOT = 180;

/** A section on a cylinder about the engine axis, between two heights of the table. */
const CYLINDER = { kind: 'cylinder', id: 'C231', radius: ENGINE_RADIUS_AT_ROOT + 51 } as const;

/** What a blank must leave everywhere: metal changed by forging, a chip, scatter of locating (mm). */
export const SAMPLE_WANTED = { affectedLayer: 0.08, minimumChip: 0.05, locating: 0.03 };

/** Nose of the leading edge at half span, where the placed part is touched to prove the values in the control. */
function checkPoint(): [number, number, number] {
  const [x, y, z] = nominalSurfacePoint(nominalBlade(), { piece: LEADING, t: 0, height: 60 });
  return [Number(x.toFixed(4)), Number(y.toFixed(4)), Number(z.toFixed(4))];
}

/**
 * The sample plan: unequal profile limits by zone; one-sided, two-sided and plus-minus characteristics; a definition
 * and a parameter chosen as a drawing would; the blade passage on a cylinder. For blanks: the stock wanted, with Z held
 * because the platform locates the blank there; six targets on the forged root; how values for the control are written;
 * elliptic edges.
 */
export function samplePlan(): Plan {
  return {
    schema: 'camberwright/plan',
    schemaVersion: 1,
    part: { number: 'TRW-2107', name: 'Compressor blade, stage 2', issue: 'B' },
    serial: '0042',
    leadingEdgeTowards: '-X',
    engine: { point: [0, 0, -ENGINE_RADIUS_AT_ROOT], direction: [1, 0, 0], blades: 41 },
    sections: { cuts: [CYLINDER] },
    definitions: [{ of: 'stagger', definition: 'CH-BT', parameters: { from: 'axial' } }],
    edgeZone: EDGE_ZONE,
    setbacks: [0.5, 1],
    zones: [
      { name: 'Suction side', side: 'suction', plus: 0.06, minus: 0.05 },
      { name: 'Pressure side', side: 'pressure', plus: 0.1, minus: 0.1 },
      { name: 'Leading edge', side: 'leading-edge', plus: 0.12, minus: 0.1 },
      { name: 'Trailing edge', side: 'trailing-edge', plus: 0.12, minus: 0.1 },
    ],
    characteristics: [
      { number: 1, of: 'chordFar', name: 'Chord', plus: 0.15, minus: 0.15 },
      { number: 2, of: 'thicknessMax', name: 'Largest thickness', plus: 0.08, minus: 0.04 },
      { number: 3, of: 'leadingEdge.radiusFit', name: 'Leading edge radius', plus: 0.03, minus: 0.03 },
      {
        number: 4,
        of: 'trailingEdge.radiusFit',
        name: 'Trailing edge radius',
        definition: 'R-LSQ',
        parameters: { halfAngleDeg: 45 },
        plus: 0.03,
        minus: 0.03,
      },
      { number: 5, of: 'twistFitDeg', name: 'Twist', nominal: 0, lower: -0.2, upper: 0.2 },
      { number: 6, of: 'thicknessAt', name: 'Thickness at three quarters', at: 0.75, plus: 0.08, minus: 0.05 },
      { number: 7, of: 'bow', name: 'Bow', nominal: 0, upper: 0.08 },
      { number: 8, of: 'stagger', name: 'Stagger', plus: 0.2, minus: 0.2 },
      { number: 9, of: 'throat', name: 'Throat', sections: [CYLINDER.id], plus: 0.25, minus: 0.25 },
    ],
    uncertainty: { equipment: 0.0015 },
    decision: { rule: 'guarded', factor: 1.65 },
    datumTargets: rootTargets(),
    stock: { ...SAMPLE_WANTED, locks: ['z'], asForged: { waviness: 0.03, slope: 0.02 } },
    offset: { moves: 'part', order: 'RzRyRx', pivot: [0, 0, -20], checkPoint: checkPoint() },
    adapt: { form: 'ellipse', setback: [0.02, 0.8], blend: 1.7, slope: 0.05 },
    minCoverage: 0.95,
    pivot: [0, 0, 0],
  };
}
