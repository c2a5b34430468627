import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import { circleAt } from './camber-line.ts';
import { type ContourPoint, contourAt, contourPoint } from './contour.ts';
import { cutThickness } from './cut-thickness.ts';
import type { Inscribed } from './inscribed-circle.ts';
import { type OutlineTerm, slopeTerms, termsUncertainty } from './outline-terms.ts';
import { type ChordId, type NoChord, type ReferenceChord, referenceChord, type Stretch } from './reference-chord.ts';
import { lacking, type SectionContext } from './section-context.ts';

/** A straight cut through both flanks, and what moves its length to first order. */
interface Cut {
  /** Contacts on the side to the right and to the left of the direction (parameters, mm). */
  first: number;
  second: number;
  x1: number;
  y1: number;
  x2: number;
  y2: number;
  thickness: number;
  /** Standard uncertainty (mm), null without noise. */
  u: number | null;
  stretches: Stretch[];
}

/** Gives the cut at a fraction, or null where there is none. */
export type CutAt = (fraction: number) => Cut | null;

const SCAN = 64;
const GOLDEN = 0.6180339887498949;
const STEPS = 60;
const a = contourPoint();
const b = contourPoint();

/** Returns the cuts perpendicular to a chord (T-ORD), or why there are none. */
export function chordCuts(context: SectionContext, id: ChordId): CutAt | NoChord {
  const chord = referenceChord(context, id);
  if (!('length' in chord)) return chord;
  return (fraction) => chordCut(context, chord, fraction);
}

function chordCut(context: SectionContext, chord: ReferenceChord, fraction: number): Cut | null {
  const { contour, far } = context;
  const { dx, dy } = chord;
  const x = chord.x1 + fraction * chord.length * dx;
  const y = chord.y1 + fraction * chord.length * dy;
  contourAt(contour.outline, far.leadingT, a);
  const setback = (x - a.x) * dx + (y - a.y) * dy;
  const found = setback > 0 ? cutThickness(contour, far.leadingT, dx, dy, setback) : null;
  if (!found) return null;
  const slide = Math.hypot((1 - fraction) * (chord.uEnd1 ?? 0), fraction * (chord.uEnd2 ?? 0));
  const turn = chord.uAngle ?? 0;
  const cut = cutBetween(context, found.after, found.before, x, y, dx, dy);
  const own = termsUncertainty(context.noise, contour.outline, cut.terms);
  const u = own === null ? null : Math.hypot(own, cut.perStation * slide, cut.perTurn * turn);
  return { ...cut.cut, u, stretches: chord.stretches };
}

/** Returns the cuts perpendicular to the line of centres (T-CAM), null without one. */
export function camberCuts(context: SectionContext): CutAt | null {
  const { line, contour, noise } = context;
  if (!line) return null;
  return (fraction) => {
    const circle = circleAt(contour, line, fraction * line.length);
    if (!circle) return null;
    const first = crossingNear(context, circle, circle.first);
    const second = crossingNear(context, circle, circle.second);
    if (first === null || second === null) return null;
    const { perStation, perTurn, terms, cut } = cutBetween(
      context,
      first,
      second,
      circle.x,
      circle.y,
      circle.tx,
      circle.ty,
    );
    // The line of centres turns with the mean of both flanks.
    const turning = [circle.first, circle.second].flatMap((t) => slopeTerms(noise, t, -0.5 * perTurn));
    const own = termsUncertainty(noise, contour.outline, [...terms, ...turning]);
    const slide = Math.hypot((1 - fraction) * (line.leading.u ?? 0), fraction * (line.trailing.u ?? 0));
    return { ...cut, u: own === null ? null : Math.hypot(own, perStation * slide), stretches: [] };
  };
}

/** Where the line through a circle's centre across the line of centres meets the flank near a contact. */
function crossingNear(context: SectionContext, circle: Inscribed, contact: number): number | null {
  const { outline, perimeter } = context.contour;
  let t = contact;
  for (let step = 0; step < STEPS; step++) {
    contourAt(outline, t, a);
    const along = (a.x - circle.x) * circle.tx + (a.y - circle.y) * circle.ty;
    const rate = (a.tx * circle.tx + a.ty * circle.ty) * a.speed;
    const move = -along / rate;
    if (!Number.isFinite(move) || Math.abs(t + move - contact) > 4 * circle.radius) return null;
    t += move;
    if (Math.abs(move) <= 1e-13 * perimeter) return t;
  }
  return null;
}

interface CutEffects {
  cut: Omit<Cut, 'u' | 'stretches'>;
  /** Change of the thickness with the station (mm/mm) and with a turn about the base (mm/rad). */
  perStation: number;
  perTurn: number;
  terms: OutlineTerm[];
}

/** Completes a cut through (x, y) across the direction (dx, dy). */
function cutBetween(
  context: SectionContext,
  first: number,
  second: number,
  x: number,
  y: number,
  dx: number,
  dy: number,
): CutEffects {
  const { outline } = context.contour;
  contourAt(outline, first, a);
  contourAt(outline, second, b);
  const height = (p: ContourPoint) => (p.y - y) * dx - (p.x - x) * dy;
  const slope = (p: ContourPoint) => (p.ty * dx - p.tx * dy) / (p.tx * dx + p.ty * dy);
  // Moved out by d, a flank moves along the cut by d over the cosine between its normal and the cut.
  const gain = (p: ContourPoint) => 1 / Math.abs(p.tx * dx + p.ty * dy);
  return {
    cut: { first, second, x1: a.x, y1: a.y, x2: b.x, y2: b.y, thickness: height(b) - height(a) },
    perStation: slope(b) - slope(a),
    perTurn: height(a) * slope(a) - height(b) * slope(b),
    terms: [
      { t: first, gain: gain(a) },
      { t: second, gain: gain(b) },
    ],
  };
}

/** Returns the thickness of the cut at a fraction. */
export function cutValue(
  context: SectionContext,
  cuts: CutAt,
  fraction: number,
  definition: string,
  parameters: Parameters,
): Value {
  const cut = cuts(fraction);
  if (!cut) return unmeasured('not-applicable', 'The fraction lies within an edge.', 'mm', definition, { parameters });
  return recordOf(context, cut, `the fraction ${fraction}`, definition, parameters, {});
}

/**
 * Returns the greatest thickness over all cuts: best of many, then golden section. Near the greatest the place does not
 * matter to first order. Evidence: its fraction, and the interval in which cuts are as thick within the uncertainty.
 */
export function largestCut(context: SectionContext, cuts: CutAt, definition: string, parameters: Parameters): Value {
  const at = (k: number) => k / SCAN;
  const row = Array.from({ length: SCAN + 1 }, (_, k) => cuts(at(k)));
  let best = -1;
  row.forEach((cut, k) => {
    if (cut && (best < 0 || cut.thickness > (row[best]?.thickness ?? 0))) best = k;
  });
  if (best < 0)
    return unmeasured('not-converged', 'No cut through both flanks was found.', 'mm', definition, { parameters });
  const thickness = (fraction: number) => cuts(fraction)?.thickness ?? 0;
  let low = at(Math.max(0, best - 1));
  let high = at(Math.min(SCAN, best + 1));
  for (let step = 0; step < STEPS && high - low > 1e-9; step++) {
    const left = high - GOLDEN * (high - low);
    const right = low + GOLDEN * (high - low);
    if (thickness(left) > thickness(right)) high = right;
    else low = left;
  }
  const fraction = 0.5 * (low + high);
  const cut = cuts(fraction) ?? row[best];
  if (!cut) return unmeasured('not-converged', 'The thickest cut did not settle.', 'mm', definition, { parameters });
  const least = cut.thickness * (1 - 1e-5) - (cut.u ?? 0);
  let from = best;
  let to = best;
  while (from > 0 && (row[from - 1]?.thickness ?? 0) >= least) from--;
  while (to < SCAN && (row[to + 1]?.thickness ?? 0) >= least) to++;
  const evidence = { fraction, interval: [at(from), at(to)] };
  return recordOf(context, cut, 'the thickest place', definition, parameters, evidence);
}

function recordOf(
  context: SectionContext,
  cut: Cut,
  name: string,
  definition: string,
  parameters: Parameters,
  evidence: Record<string, number | number[]>,
): Value {
  const contacts: Stretch[] = [
    [cut.first, cut.first, name],
    [cut.second, cut.second, name],
  ];
  const missing = lacking(context, [...cut.stretches, ...contacts], 'mm', definition);
  if (missing) return { ...missing, parameters };
  const { x1, y1, x2, y2, thickness, u } = cut;
  return measured(thickness, u, 'mm', definition, { parameters, evidence: { x1, y1, x2, y2, ...evidence } });
}
