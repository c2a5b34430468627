import type { SectionMeasures } from '../model/results.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { type CamberLine, circleAt } from './camber-line.ts';
import type { Inscribed } from './inscribed-circle.ts';
import { contactUncertainty } from './position-noise.ts';
import { lacking, type SectionContext } from './section-context.ts';
import { farthestCentre, largestCircle } from './thickness.ts';

const DEFINITION = 'T-MIC';
const NO_LINE = 'No line of centres was found.';
/** Diameters of an exact outline within this share of the largest count as equal. */
const EQUAL = 1e-5;

/** Returns the diameter of the largest inscribed circle and where it lies; no place on parallel flanks. */
export function thicknessMax(context: SectionContext): SectionMeasures['thicknessMax'] {
  const { line, contour, noise, options } = context;
  const parameters = { along: options.fractionsAlong };
  if (!line) return { ...unmeasured('not-converged', NO_LINE, 'mm', DEFINITION, { parameters }), at: null };
  const middle = line.circles[line.circles.length >> 1];
  const tolerance = contactUncertainty(noise, middle.first, middle.second) ?? EQUAL * 2 * middle.radius;
  const largest = largestCircle(contour, line, tolerance);
  const { circle } = largest;
  const missing = lacking(context, contacts(circle, 'the thickest place'), 'mm', DEFINITION);
  if (missing) return { ...missing, parameters, at: null };
  const u = contactUncertainty(noise, circle.first, circle.second);
  const value = measured(2 * circle.radius, u, 'mm', DEFINITION, {
    parameters,
    evidence: {
      interval: [largest.from, largest.to],
      plateau: largest.plateau,
      centreX: circle.x,
      centreY: circle.y,
    },
  });
  const at = options.fractionsAlong === 'chord' ? chordFraction(context, circle) : largest.at;
  return { ...value, at: largest.plateau ? null : at };
}

/** Returns the diameters of the inscribed circles at the set fractions. */
export function thicknessAtFractions(context: SectionContext): SectionMeasures['thicknessAt'] {
  return context.options.fractions.map((fraction) => ({ fraction, ...thicknessAt(context, fraction) }));
}

function thicknessAt(context: SectionContext, fraction: number): Value {
  const { line, contour, noise, options } = context;
  const parameters = { fraction, along: options.fractionsAlong };
  if (!line) return unmeasured('not-converged', NO_LINE, 'mm', DEFINITION, { parameters });
  const at =
    options.fractionsAlong === 'chord' ? alongOfChordFraction(context, line, fraction) : fraction * line.length;
  const circle = circleAt(contour, line, at);
  if (!circle)
    return unmeasured('not-applicable', 'The fraction lies within an edge.', 'mm', DEFINITION, { parameters });
  const missing = lacking(context, contacts(circle, `the fraction ${fraction}`), 'mm', DEFINITION);
  if (missing) return { ...missing, parameters };
  const own = contactUncertainty(noise, circle.first, circle.second);
  const place = noise ? Math.hypot(line.leading.u ?? 0, line.trailing.u ?? 0) / 2 : 0;
  const u = own === null ? null : Math.hypot(own, 2 * circle.slope * place);
  return measured(2 * circle.radius, u, 'mm', DEFINITION, {
    parameters,
    evidence: { centreX: circle.x, centreY: circle.y },
  });
}

function chordFraction(context: SectionContext, c: { x: number; y: number }): number {
  const { far } = context;
  const dx = far.trailingX - far.leadingX;
  const dy = far.trailingY - far.leadingY;
  return ((c.x - far.leadingX) * dx + (c.y - far.leadingY) * dy) / (far.length * far.length);
}

/** Length along the line of centres where the centre projects on a fraction of CH-FAR, by halving. */
function alongOfChordFraction(context: SectionContext, line: CamberLine, fraction: number): number {
  const n = line.along.length;
  let low = line.along[0];
  let high = line.along[n - 1];
  if (chordFraction(context, line.circles[0]) > fraction) return Number.NEGATIVE_INFINITY;
  if (chordFraction(context, line.circles[n - 1]) < fraction) return Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < 45; turn++) {
    const middle = 0.5 * (low + high);
    const circle = circleAt(context.contour, line, middle);
    if (!circle) break;
    if (chordFraction(context, circle) < fraction) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

/** Returns the largest distance of the centres from the line through both end-circle centres. */
export function camberMax(context: SectionContext): Value {
  const { line, contour, noise } = context;
  const parameters = { chord: 'line through both end-circle centres' };
  if (!line) return unmeasured('not-converged', NO_LINE, 'mm', 'F-MAX', { parameters });
  const farthest = farthestCentre(contour, line);
  if (!farthest) return unmeasured('not-converged', 'No farthest centre was found.', 'mm', 'F-MAX', { parameters });
  const missing = lacking(context, contacts(farthest.circle, 'the most cambered place'), 'mm', 'F-MAX');
  if (missing) return { ...missing, parameters };
  const own = contactUncertainty(noise, farthest.circle.first, farthest.circle.second);
  const { at } = farthest;
  const ends = Math.hypot((1 - at) * offChord(line, 'leading'), at * offChord(line, 'trailing'));
  const u = own === null ? null : Math.hypot(own / 2, ends);
  return measured(farthest.distance, u, 'mm', 'F-MAX', { parameters, evidence: { fraction: at } });
}

/** Standard uncertainty (mm) of an end-circle centre across the line through both, 0 without noise. */
function offChord(line: CamberLine, which: 'leading' | 'trailing'): number {
  const { leading, trailing, heading } = line;
  const chord = Math.atan2(trailing.y - leading.y, trailing.x - leading.x);
  const tilt = heading ? heading[which] - chord : 0;
  const end = line[which];
  return Math.hypot((end.uAcross ?? 0) * Math.cos(tilt), (end.u ?? 0) * Math.sin(tilt));
}

function contacts(circle: Inscribed, name: string): [number, number, string][] {
  return [
    [circle.first, circle.first, name],
    [circle.second, circle.second, name],
  ];
}
