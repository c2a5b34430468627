import type { Plan } from '../src/model/plan.ts';

/** Set-back of the sample plan's edge zones (mm). */
const EDGE_ZONE = 2.5;

/** Engine of the sample blade: its axis runs along X below the root. */
const ENGINE_RADIUS_AT_ROOT = 180;

/** A section on a cylinder about the engine axis, between two heights of the table. */
const CYLINDER = { kind: 'cylinder', id: 'C255', radius: ENGINE_RADIUS_AT_ROOT + 75 } as const;

/**
 * The sample plan: unequal profile limits by zone; one-sided, two-sided and plus-minus characteristics; a definition
 * and a parameter chosen as a drawing would; the blade passage on a cylinder.
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
    minCoverage: 0.95,
    pivot: [0, 0, 0],
  };
}
