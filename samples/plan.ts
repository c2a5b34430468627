import type { Plan } from '../src/model/plan.ts';

/** Set-back of the sample plan's edge zones (mm). */
export const EDGE_ZONE = 2.5;

/** The sample plan: unequal profile limits by zone and one-sided, two-sided and plus-minus characteristics. */
export function samplePlan(): Plan {
  return {
    schema: 'camberwright/plan',
    schemaVersion: 1,
    part: { number: 'TRW-2107', name: 'Compressor blade, stage 2', issue: 'B' },
    serial: '0042',
    leadingEdgeTowards: '-X',
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
      { number: 4, of: 'trailingEdge.radiusFit', name: 'Trailing edge radius', plus: 0.03, minus: 0.03 },
      { number: 5, of: 'twistFitDeg', name: 'Twist', nominal: 0, lower: -0.2, upper: 0.2 },
      { number: 6, of: 'thicknessAt', name: 'Thickness at three quarters', at: 0.75, plus: 0.08, minus: 0.05 },
      { number: 7, of: 'bow', name: 'Bow', nominal: 0, upper: 0.08 },
    ],
    uncertainty: { equipment: 0.001 },
    decision: { rule: 'guarded', factor: 1.65 },
    minCoverage: 0.95,
    pivot: [0, 0, 0],
  };
}
