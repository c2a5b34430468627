import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import { type CamberLine, circleAt } from './camber-line.ts';
import { circleStretches } from './circle-stretches.ts';
import type { Inscribed } from './inscribed-circle.ts';
import { linePeak } from './line-peak.ts';
import { diameterTerms } from './outline-terms.ts';
import { contactUncertainty } from './position-noise.ts';
import { farReference, type ReferenceChord } from './reference-chord.ts';
import { lacking, type SectionContext } from './section-context.ts';
import { type LargestCircle, largestCircle } from './thickness.ts';

/** What a fraction counts along: the line of centres between the end-circle centres, or CH-FAR. */
export type Along = 'centres' | 'chord';

const DEFINITION = 'T-MIC';
const NO_LINE = 'No line of centres was found.';
/** Diameters of an exact outline within this share of the largest count as equal. */
const EQUAL = 1e-5;

/** Returns the diameter of the largest inscribed circle (T-MIC). */
export function largestThickness(context: SectionContext): Value {
  const { line, noise } = context;
  if (!line) return unmeasured('not-converged', NO_LINE, 'mm', DEFINITION);
  const largest = largestOf(context, line);
  const { circle } = largest;
  const missing = lacking(context, circleStretches(circle, 'the thickest place'), 'mm', DEFINITION);
  if (missing) return missing;
  const u = contactUncertainty(noise, circle.first, circle.second);
  return measured(2 * circle.radius, u, 'mm', DEFINITION, { evidence: evidenceOf(largest) });
}

/** Returns the place of the largest inscribed circle as a fraction (T-POS); not applicable on parallel flanks. */
export function thickestPlace(context: SectionContext, along: Along): Value {
  const parameters: Parameters = { along };
  const { line } = context;
  if (!line) return unmeasured('not-converged', NO_LINE, '1', 'T-POS', { parameters });
  const largest = largestOf(context, line);
  const evidence = evidenceOf(largest);
  const peak = largest.plateau
    ? null
    : linePeak(context, line, {
        value: (c) => 2 * c.radius,
        slope: (c) => 2 * c.slope,
        terms: diameterTerms,
      });
  if (!peak) {
    const reason = 'The thickness stays the same over a long stretch: no place is the thickest.';
    return unmeasured('not-applicable', reason, '1', 'T-POS', { parameters, evidence });
  }
  const chord = farReference(context);
  const stretches = along === 'chord' ? chord.stretches : [];
  const named = [...stretches, ...circleStretches(peak.circle, 'the thickest place')];
  const missing = lacking(context, named, '1', 'T-POS');
  if (missing) return { ...missing, parameters };
  const { circle } = peak;
  const value = along === 'chord' ? chordFraction(chord, circle) : peak.at / line.length;
  const length = along === 'chord' ? chord.length : line.length;
  const u = peak.uAt === null ? null : Math.hypot(peak.uAt, stationNoise(line, chord, along, value)) / length;
  const at = { ...evidence, centreX: circle.x, centreY: circle.y, radius: circle.radius };
  return measured(value, u, '1', 'T-POS', { parameters, evidence: at });
}

function largestOf(context: SectionContext, line: CamberLine): LargestCircle {
  const middle = line.circles[line.circles.length >> 1];
  const tolerance = contactUncertainty(context.noise, middle.first, middle.second) ?? EQUAL * 2 * middle.radius;
  return largestCircle(context.contour, line, tolerance);
}

function evidenceOf({ circle, from, to, plateau }: LargestCircle) {
  return { interval: [from, to], plateau, centreX: circle.x, centreY: circle.y, radius: circle.radius };
}

/** Returns the diameter of the inscribed circle at a fraction (T-MIC). */
export function thicknessAt(context: SectionContext, fraction: number, along: Along): Value {
  const { line, contour, noise } = context;
  const parameters: Parameters = { fraction, along };
  if (!line) return unmeasured('not-converged', NO_LINE, 'mm', DEFINITION, { parameters });
  const chord = farReference(context);
  const at = along === 'chord' ? alongOfChordFraction(context, line, chord, fraction) : fraction * line.length;
  const circle = circleAt(contour, line, at);
  if (!circle)
    return unmeasured('not-applicable', 'The fraction lies within an edge.', 'mm', DEFINITION, { parameters });
  const stretches = along === 'chord' ? chord.stretches : [];
  const named = [...stretches, ...circleStretches(circle, `the fraction ${fraction}`)];
  const missing = lacking(context, named, 'mm', DEFINITION);
  if (missing) return { ...missing, parameters };
  const own = contactUncertainty(noise, circle.first, circle.second);
  const slide = 2 * circle.slope * stationNoise(line, chord, along, fraction);
  const u = own === null ? null : Math.hypot(own, slide);
  return measured(2 * circle.radius, u, 'mm', DEFINITION, {
    parameters,
    evidence: { centreX: circle.x, centreY: circle.y, radius: circle.radius },
  });
}

/** Standard uncertainty (mm) of the place of a fraction by the ends it is counted between, 0 without noise. */
function stationNoise(line: CamberLine, chord: ReferenceChord, along: Along, fraction: number): number {
  const [first, second] = along === 'chord' ? [chord.uEnd1, chord.uEnd2] : [line.leading.u, line.trailing.u];
  return Math.hypot((1 - fraction) * (first ?? 0), fraction * (second ?? 0));
}

function chordFraction(chord: ReferenceChord, c: { x: number; y: number }): number {
  return ((c.x - chord.x1) * chord.dx + (c.y - chord.y1) * chord.dy) / chord.length;
}

function alongOfChordFraction(
  context: SectionContext,
  line: CamberLine,
  chord: ReferenceChord,
  fraction: number,
): number {
  const n = line.along.length;
  const beyond = (circle: Inscribed) => chordFraction(chord, circle) > fraction;
  let low = line.along[0];
  let high = line.along[n - 1];
  if (beyond(line.circles[0])) return Number.NEGATIVE_INFINITY;
  if (!beyond(line.circles[n - 1])) return Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < 45; turn++) {
    const middle = 0.5 * (low + high);
    const circle = circleAt(context.contour, line, middle);
    if (!circle) break;
    if (beyond(circle)) high = middle;
    else low = middle;
  }
  return 0.5 * (low + high);
}
