import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import { type CamberWindow, type WindowLine, windowCircles, windowLine } from './camber-window.ts';
import { type Axis, angleFrom } from './chord-values.ts';
import { circleStretches } from './circle-stretches.ts';
import { termsUncertainty } from './outline-terms.ts';
import { lacking, type SectionContext } from './section-context.ts';

type Which = 'leading' | 'trailing';

const DEG = 180 / Math.PI;
const DEFINITION = 'MA-WIN';

/**
 * Returns the direction at an edge of the smooth line fitted to the line of centres over a window and carried on to the
 * edge point EP-CAM (MA-WIN).
 */
export function windowAngle(context: SectionContext, which: Which, window: CamberWindow, axis: Axis): Value {
  const parameters: Parameters = { ...window, axis };
  const fit = windowDirection(context, which, window);
  if ('status' in fit) return { ...fit, parameters };
  return measured(angleFrom(fit.line.direction, axis), fit.u, 'deg', DEFINITION, {
    parameters,
    evidence: { rms: fit.line.rms, ...drawn(context, fit.line, which) },
  });
}

/** Returns the camber angle, leading minus trailing direction by MA-WIN. */
export function windowTurn(context: SectionContext, window: CamberWindow): Value {
  const parameters: Parameters = { ...window };
  const [lead, trail] = (['leading', 'trailing'] as const).map((which) => windowDirection(context, which, window));
  if ('status' in lead) return { ...lead, parameters };
  if ('status' in trail) return { ...trail, parameters };
  const u = lead.u === null || trail.u === null ? null : Math.hypot(lead.u, trail.u);
  const turn = lead.line.direction - trail.line.direction;
  const value = Math.atan2(Math.sin(turn), Math.cos(turn)) * DEG;
  return measured(value, u, 'deg', DEFINITION, {
    parameters,
    evidence: { leadingRms: lead.line.rms, trailingRms: trail.line.rms },
  });
}

function windowDirection(
  context: SectionContext,
  which: Which,
  options: CamberWindow,
): { line: WindowLine; u: number | null } | Value {
  const { line, noise, section } = context;
  const edge = context[which];
  if (!line || !edge) return unmeasured('not-converged', 'No line of centres was found.', 'deg', DEFINITION);
  const window = windowCircles(context, line, which, options.from, options.to);
  if (typeof window === 'string') return unmeasured('not-applicable', window, 'deg', DEFINITION);
  const name = `the window at the ${which} edge`;
  const stretches = window.circles.flatMap((c) => circleStretches(c, name));
  const missing = lacking(context, [...stretches, [edge.point, edge.point, `the ${which} edge`]], 'deg', DEFINITION);
  if (missing) return missing;
  const fit = windowLine(line, window, options.form, edge.pointX, edge.pointY);
  if (!fit) return unmeasured('not-converged', 'The line through the window did not settle.', 'deg', DEFINITION);
  const own = termsUncertainty(noise, section.outline, fit.directionTerms);
  // The edge point slides along the line as the edge does.
  const u = own === null || !noise ? null : Math.hypot(own, fit.bend * noise.at(edge.point)) * DEG;
  return { line: fit, u };
}

/** For drawing: the ends of the window and the extrapolated direction at the edge point. */
function drawn(context: SectionContext, fit: WindowLine, which: Which): Record<string, number> {
  const { circles, from, to } = fit.window;
  const edge = context[which];
  if (!edge) return {};
  const last = circles[circles.length - 1];
  const reach = (which === 'leading' ? 0.1 : -0.1) * context.far.length;
  return {
    windowFrom: from,
    windowTo: to,
    window1X: circles[0].x,
    window1Y: circles[0].y,
    window2X: last.x,
    window2Y: last.y,
    x1: edge.pointX,
    y1: edge.pointY,
    x2: edge.pointX + reach * Math.cos(fit.direction),
    y2: edge.pointY + reach * Math.sin(fit.direction),
  };
}
