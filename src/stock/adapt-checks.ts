import { overallVerdict } from '../judge/overall-verdict.ts';
import type { AdaptCheck, AdaptedSection } from '../model/adapt-results.ts';
import type { EdgeNumbers } from './adapt-measures.ts';
import { type BuiltSection, ENDS } from './adapt-section.ts';
import type { AdaptSettings } from './adapt-settings.ts';
import { secondDifference } from './adapt-span.ts';

/** What an adapted blade is held to. Lengths in mm, angles in degrees. */
export interface AdaptLimits {
  chord: number;
  thickness: number;
  tangentBreakDeg: number;
  /** Nose off the extended middle of the flanks. */
  nose: number;
  /** Metal missing where an edge fades into a kept flank. */
  missing: number;
  /** Second difference over the span of where edges and junctions lie. */
  span: number;
}

/** Limits of an adapted blade where none are given. */
export const ADAPT_LIMITS: AdaptLimits = {
  chord: 0.01,
  thickness: 0.01,
  tangentBreakDeg: 0.1,
  nose: 0.02,
  missing: 0.02,
  span: 0.01,
};

/** A section with the numbers of its edges. */
export interface NumberedSection {
  built: BuiltSection;
  chord: AdaptedSection['chord'];
  edges: EdgeNumbers[];
  /** Most slope of the fade at each edge, leading first; and what curvature the outline falls below the nominal's. */
  slopes: number[];
  concave: number;
}

/** One thing held against a limit in every section; `amount` null: nothing to hold. */
interface Held {
  id: AdaptCheck['id'];
  name: string;
  unit: string;
  limit: number;
  amount: (section: NumberedSection, edge: number) => number | null;
}

/** Largest second derivative of a quintic fade over its largest slope, times its length. */
const BEND_OF_SLOPE = 10 / Math.sqrt(3) / 1.875;

function heldOf(settings: AdaptSettings, limits: AdaptLimits): Held[] {
  const thickness = (edge: EdgeNumbers): number | null =>
    edge.thicknessAt.reduce<number | null>((most, { value, nominal }) => {
      if (value === null || nominal === null) return most;
      return Math.max(most ?? 0, Math.abs(value - nominal));
    }, null);
  return [
    {
      id: 'edge-thickness',
      name: 'Thickness of the edges at their set-backs',
      unit: 'mm',
      limit: limits.thickness,
      amount: ({ edges }, e) => thickness(edges[e]),
    },
    {
      id: 'tangent-break',
      name: 'Break of the tangent at the junctions',
      unit: '°',
      limit: limits.tangentBreakDeg,
      amount: ({ edges }, e) => edges[e].tangentBreakDeg,
    },
    {
      id: 'curvature',
      name: 'Curvature that does not rise to the nose (edges)',
      unit: '',
      limit: 0,
      amount: ({ edges }, e) => (edges[e].curvatureMonotone === null ? null : edges[e].curvatureMonotone ? 0 : 1),
    },
    {
      id: 'nose-place',
      name: 'Nose off the middle of the flanks',
      unit: 'mm',
      limit: limits.nose,
      amount: ({ edges }, e) => (edges[e].noseOffset.value === null ? null : Math.abs(edges[e].noseOffset.value)),
    },
    {
      id: 'blend',
      name: 'Slope of the blend',
      unit: '',
      limit: settings.slope,
      amount: ({ slopes }, e) => slopes[e],
    },
  ];
}

/** The checks of single sections, and the reason each edge fails by (null: it does not). */
export function sectionChecks(
  sections: readonly NumberedSection[],
  settings: AdaptSettings,
  limits: AdaptLimits,
): { checks: AdaptCheck[]; reasons: (string | null)[][] } {
  const reasons: (string | null)[][] = sections.map(() => [null, null]);
  const checks = heldOf(settings, limits).map(({ id, name, unit, limit, amount }): AdaptCheck => {
    let worst: { value: number; where: string } | null = null;
    let unknown: string | null = null;
    sections.forEach((section, k) => {
      ENDS.forEach((end, e) => {
        const value = amount(section, e);
        const where = `section ${section.built.plan.frame.id}, ${end} edge`;
        if (value === null) {
          if (id !== 'edge-thickness') unknown ??= where;
          return;
        }
        if (!worst || value > worst.value) worst = { value, where };
        if (value > limit && reasons[k][e] === null) reasons[k][e] = `${name}: ${sized(value, unit)}.`;
      });
    });
    return checkOf(id, name, unit, limit, worst, unknown);
  });
  checks.unshift(chordCheck(sections, limits.chord));
  checks.push(concavityCheck(sections, settings));
  return { checks, reasons };
}

function sized(value: number, unit: string): string {
  const digits = unit === 'mm' ? 3 : 4;
  return unit === '' && Number.isInteger(value)
    ? 'not kept'
    : `${value.toFixed(digits)}${unit === '' ? '' : ` ${unit}`}`;
}

function checkOf(
  id: AdaptCheck['id'],
  name: string,
  unit: string,
  limit: number,
  worst: { value: number; where: string } | null,
  unknown: string | null,
): AdaptCheck {
  if (worst && worst.value > limit)
    return { id, name, value: worst.value, limit, unit, verdict: 'fail', where: worst.where };
  if (unknown !== null) return { id, name, value: null, limit, unit, verdict: 'not-measured', where: unknown };
  if (!worst) return { id, name, value: null, limit, unit, verdict: 'not-applicable', where: null };
  return { id, name, value: worst.value, limit, unit, verdict: 'pass', where: worst.where };
}

function chordCheck(sections: readonly NumberedSection[], limit: number): AdaptCheck {
  let worst: { value: number; where: string } | null = null;
  for (const { built, chord } of sections) {
    const { frame } = built.plan;
    const value = Math.abs((chord.value ?? Number.POSITIVE_INFINITY) - frame.chord);
    if (!worst || value > worst.value) worst = { value, where: `section ${frame.id}` };
  }
  return checkOf('chord', 'Chord off the nominal', 'mm', limit, worst, null);
}

/** A fade may hollow the outline by no more than one of the most slope does. */
function concavityCheck(sections: readonly NumberedSection[], settings: AdaptSettings): AdaptCheck {
  let worst: { value: number; where: string } | null = null;
  for (const { built, concave } of sections)
    if (!worst || concave > worst.value) worst = { value: concave, where: `section ${built.plan.frame.id}` };
  const length = Math.min(settings.leading.blend, settings.trailing.blend);
  const limit = length > 0 ? (BEND_OF_SLOPE * settings.slope) / length : 0;
  return checkOf('concavity', 'Hollow at the edges that the nominal has not', '1/mm', limit, worst, null);
}

/** Holds how smoothly noses and junctions run over the span. */
export function spanCheck(sections: readonly NumberedSection[], limit: number): AdaptCheck {
  const heights = sections.map(({ built }) => built.plan.frame.height);
  let worst: { value: number; where: string } | null = null;
  ENDS.forEach((end, e) => {
    const runs: [string, number[]][] = [
      ['nose', sections.map(({ built }) => built.moves[end].across)],
      ['nose line', sections.map(({ built }) => built.moves[end].along)],
      ['suction junction', sections.map(({ edges }) => edges[e].setbacks?.suction ?? 0)],
      ['pressure junction', sections.map(({ edges }) => edges[e].setbacks?.pressure ?? 0)],
    ];
    for (const [what, values] of runs) {
      const { value, at } = secondDifference(heights, values);
      if (at >= 0 && (!worst || value > worst.value))
        worst = { value, where: `${what} of the ${end} edge, section ${sections[at].built.plan.frame.id}` };
    }
  });
  return checkOf('span', 'Second difference over the span', 'mm', limit, worst, null);
}

/** The verdict of checks together. */
export function verdictOf(checks: readonly AdaptCheck[]): AdaptCheck['verdict'] {
  return overallVerdict(checks.map(({ verdict }) => verdict));
}
