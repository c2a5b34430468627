import { measured, unmeasured, type Value } from '../model/value.ts';
import { type Axis, angleFrom } from './chord-values.ts';
import { circleStretches } from './circle-stretches.ts';
import type { Stretch } from './reference-chord.ts';
import { lacking, type SectionContext } from './section-context.ts';

const DEG = 180 / Math.PI;
const DEFINITION = 'MA-END';
const NO_LINE = 'No line of centres was found.';

/** Returns the direction of the line of centres at an end-circle centre (MA-END). */
export function endAngle(context: SectionContext, which: 'leading' | 'trailing', axis: Axis): Value {
  const parameters = { axis };
  const heading = context.line?.heading;
  if (!heading) return unmeasured('not-converged', NO_LINE, 'deg', DEFINITION, { parameters });
  const missing = lacking(context, endStretches(context, which), 'deg', DEFINITION);
  if (missing) return { ...missing, parameters };
  const u = which === 'leading' ? heading.uLeading : heading.uTrailing;
  const evidence = { degree: heading.degree, rms: heading.rms, ...ray(context, which, heading[which]) };
  return measured(angleFrom(heading[which], axis), scaled(u), 'deg', DEFINITION, { parameters, evidence });
}

/** Returns the camber angle, leading minus trailing direction at the end-circle centres (MA-END). */
export function endTurn(context: SectionContext): Value {
  const parameters = { sign: 'leading minus trailing direction' };
  const heading = context.line?.heading;
  if (!heading) return unmeasured('not-converged', NO_LINE, 'deg', DEFINITION, { parameters });
  const stretches = [...endStretches(context, 'leading'), ...endStretches(context, 'trailing')];
  const missing = lacking(context, stretches, 'deg', DEFINITION);
  if (missing) return { ...missing, parameters };
  const evidence = { degree: heading.degree, rms: heading.rms };
  const turn = (heading.leading - heading.trailing) * DEG;
  return measured(turn, scaled(heading.uDifference), 'deg', DEFINITION, { parameters, evidence });
}

/** The last two contacts next to an edge. */
function endStretches(context: SectionContext, which: 'leading' | 'trailing'): Stretch[] {
  const circles = context.line?.circles ?? [];
  const circle = which === 'leading' ? circles[0] : circles[circles.length - 1];
  return circleStretches(circle, `the ${which} edge`);
}

/** For drawing: the end-circle centre and a place one chord tenth inwards along the direction. */
function ray(context: SectionContext, which: 'leading' | 'trailing', angle: number): Record<string, number> {
  const end = context.line?.[which];
  if (!end) return {};
  const reach = (which === 'leading' ? 0.1 : -0.1) * context.far.length;
  return { x1: end.x, y1: end.y, x2: end.x + reach * Math.cos(angle), y2: end.y + reach * Math.sin(angle) };
}

function scaled(u: number | null): number | null {
  return u === null ? null : u * DEG;
}
