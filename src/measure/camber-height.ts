import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import type { CamberLine } from './camber-line.ts';
import { circleStretches } from './circle-stretches.ts';
import type { Inscribed } from './inscribed-circle.ts';
import { type LinePeak, type LineQuantity, linePeak } from './line-peak.ts';
import { centreTerms, termsUncertainty } from './outline-terms.ts';
import { type ChordId, type ReferenceChord, referenceChord } from './reference-chord.ts';
import { lacking, type SectionContext } from './section-context.ts';

/** Lines the camber is measured from. */
export type CamberChord = Extract<ChordId, 'CENTRES' | 'CH-CAM'>;

/** Heights below this share of the chord, or this many times their uncertainty, have no place. */
const LEAST_HEIGHT = 1e-6;
const LEAST_SIGMA = 3;
const DEG = 180 / Math.PI;
const STRAIGHT = 'The line of centres is straight: no place is the most cambered.';

/** The most cambered place and the chord it is seen from. */
interface Camber {
  chord: ReferenceChord;
  peak: LinePeak;
  /** Its place as a fraction of the chord. */
  fraction: number;
  u: number | null;
}

/** Returns the largest distance of the line of centres from a chord (F-MAX). */
export function camberMax(context: SectionContext, id: CamberChord): Value {
  const camber = camberHeight(context, id, 'mm', 'F-MAX');
  if ('status' in camber) return camber;
  return measured(camber.peak.value, camber.u, 'mm', 'F-MAX', {
    parameters: { chord: id },
    evidence: drawn(camber),
  });
}

/** Returns the place of the largest camber as a fraction of its chord (F-POS). */
export function camberPlace(context: SectionContext, id: CamberChord): Value {
  const camber = camberHeight(context, id, '1', 'F-POS');
  if ('status' in camber) return camber;
  const { chord, peak, fraction, u } = camber;
  const parameters = { chord: id };
  if (peak.bend === 0 || peak.value < Math.max(LEAST_HEIGHT * chord.length, LEAST_SIGMA * (u ?? 0)))
    return unmeasured('not-applicable', STRAIGHT, '1', 'F-POS', { parameters });
  const turn = (chord.uAngle ?? 0) / Math.abs(peak.bend);
  const ends = Math.hypot((1 - fraction) * (chord.uEnd1 ?? 0), fraction * (chord.uEnd2 ?? 0));
  const own = peak.uAt === null ? null : Math.hypot(peak.uAt, turn, ends) / chord.length;
  return measured(fraction, own, '1', 'F-POS', { parameters, evidence: drawn(camber) });
}

/** Returns the camber angle of the circular arc of the same height over the chord of centres: 4 atan(2 f / c). */
export function arcCamberAngle(context: SectionContext): Value {
  const camber = camberHeight(context, 'CENTRES', 'deg', 'CAMBER-ARC');
  if ('status' in camber) return camber;
  const { chord, peak, u } = camber;
  const ratio = (2 * peak.value) / chord.length;
  const perRatio = (4 / (1 + ratio * ratio)) * DEG;
  const own =
    u === null ? null : perRatio * Math.hypot((2 * u) / chord.length, (ratio * (chord.uLength ?? 0)) / chord.length);
  const { x, y } = peak.circle;
  // Positive like leading minus trailing direction: the line bends to the right.
  const side = (y - chord.y1) * chord.dx - (x - chord.x1) * chord.dy < 0 ? -1 : 1;
  return measured(side * 4 * Math.atan(ratio) * DEG, own, 'deg', 'CAMBER-ARC', { evidence: drawn(camber) });
}

function camberHeight(context: SectionContext, id: CamberChord, unit: string, definition: string): Camber | Value {
  const parameters: Parameters = { chord: id };
  const { line } = context;
  const chord = referenceChord(context, id);
  if (!('length' in chord)) return unmeasured(chord.status, chord.reason, unit, definition, { parameters });
  if (!line) return unmeasured('not-converged', 'No line of centres was found.', unit, definition, { parameters });
  const { x1, y1, dx, dy, length } = chord;
  const height = (c: { x: number; y: number }) => (c.y - y1) * dx - (c.x - x1) * dy;
  const highest = line.circles.reduce((a, b) => (Math.abs(height(b)) > Math.abs(height(a)) ? b : a));
  const side = height(highest) < 0 ? -1 : 1;
  const quantity: LineQuantity = {
    value: (c) => side * height(c),
    slope: (c) => side * (c.ty * dx - c.tx * dy),
    terms: (c, gain) => centreTerms(c, side * gain * (c.tx * dx + c.ty * dy)),
  };
  const peak = linePeak(context, line, quantity) ?? peakAt(context, line, highest, quantity);
  const stretches = [...chord.stretches, ...circleStretches(peak.circle, 'the most cambered place')];
  const missing = lacking(context, stretches, unit, definition);
  if (missing) return { ...missing, parameters };
  const fraction = ((peak.circle.x - x1) * dx + (peak.circle.y - y1) * dy) / length;
  const ends = Math.hypot((1 - fraction) * (chord.uAcross1 ?? 0), fraction * (chord.uAcross2 ?? 0));
  const u = peak.uValue === null ? null : Math.hypot(peak.uValue, ends);
  return { chord, peak, fraction, u };
}

/** A circle of a line that has no highest place. */
function peakAt(context: SectionContext, line: CamberLine, circle: Inscribed, quantity: LineQuantity): LinePeak {
  const uValue = termsUncertainty(context.noise, context.section.outline, quantity.terms(circle, 1));
  const at = line.along[line.circles.indexOf(circle)];
  return { circle, at, value: quantity.value(circle), bend: 0, uAt: null, uValue };
}

/** For drawing: the chord, and the height from its foot (x1, y1) to the line of centres (x2, y2). */
function drawn({ chord, peak, fraction }: Camber): Record<string, number> {
  const { circle } = peak;
  const station = fraction * chord.length;
  return {
    fraction,
    x1: chord.x1 + station * chord.dx,
    y1: chord.y1 + station * chord.dy,
    x2: circle.x,
    y2: circle.y,
    chord1X: chord.x1,
    chord1Y: chord.y1,
    chord2X: chord.x2,
    chord2Y: chord.y2,
  };
}
