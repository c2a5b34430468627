import { type Parameters, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { type Cut, cutThickness } from './cut-thickness.ts';
import type { PositionNoise } from './position-noise.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

const place = contourPoint();
/** Places at which a stretch is summed. */
const PLACES = 64;

/** Cut normal to the line of centres at a set-back from the nose; null when that is more than half the section. */
export function zoneCut(context: SectionContext, edge: EdgeContext, setback: number): Cut | null {
  if (setback > 0.5 * context.far.length) return null;
  return cutThickness(context.contour, edge.nose, -edge.outX, -edge.outY, setback);
}

/** Returns the cut that bounds the zone of an edge, or the value that says why nothing is measured there. */
export function measuredZone(
  context: SectionContext,
  edge: EdgeContext,
  setback: number,
  unit: string,
  definition: string,
  parameters: Parameters,
): Cut | Value {
  const cut = zoneCut(context, edge, setback);
  if (!cut)
    return unmeasured('not-applicable', 'The section is too short for the set-back.', unit, definition, { parameters });
  const missing = lacking(context, [[cut.before, cut.after, `the ${edge.which} edge`]], unit, definition);
  return missing ? { ...missing, parameters } : cut;
}

/** True for what `measuredZone` gives instead of a cut. */
export function isValue(found: Cut | Value): found is Value {
  return 'status' in found;
}

/** Returns the sum over a stretch of the outline of a function of the parameter, per millimetre. */
export function sumAlong(context: SectionContext, from: number, to: number, f: (t: number) => number): number {
  const step = (to - from) / PLACES;
  let sum = 0;
  for (let i = 0; i < PLACES; i++) {
    const t = from + (i + 0.5) * step;
    const value = f(t);
    contourAt(context.section.outline, t, place);
    sum += value * step * place.speed;
  }
  return sum;
}

/** Variance (mm³) of the outline's displacement along its normal summed over one millimetre: points are independent. */
export function lineVariance(noise: PositionNoise, t: number): number {
  return noise.at(t) ** 2 * noise.window(t);
}

/** 1 where the outline after the edge's nose is the suction side, −1 where it is the one before. */
export function suctionSign(context: SectionContext, edge: EdgeContext): 1 | -1 {
  return (context.section.edges.firstSide === 'suction') === (edge.which === 'leading') ? 1 : -1;
}
