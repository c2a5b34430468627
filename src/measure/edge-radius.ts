import { fitCircle } from '../math/circle-fit.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { arcPoints, edgeArc, placeSigma, pointRms } from './edge-arc.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

/** Why an edge has no radius, or null when it may have one. */
export function noArcReason(edge: EdgeContext, cornered: boolean): string | null {
  if (edge.end.kind === 'sharp') return `The ${edge.which} edge is sharp: it has no arc.`;
  if (edge.end.kind === 'flat' && cornered) return `The ${edge.which} edge ends in a flat: it has no arc.`;
  return null;
}

/** True when the outline has a corner between the last contacts of the edge. */
export function hasCorner(context: SectionContext, edge: EdgeContext): boolean {
  const { outline } = context.section;
  return outline.corners.some((c) => {
    const t = c - outline.period * Math.floor((c - edge.end.from) / outline.period);
    return t < edge.end.to;
  });
}

/** Returns 1 / curvature where the normal lies along the line of centres (R-OSC). */
export function noseRadius(context: SectionContext, edge: EdgeContext): Value {
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return unmeasured('not-applicable', reason, 'mm', 'R-OSC');
  const missing = lacking(context, [[edge.nose, edge.nose, `the ${edge.which} edge`]], 'mm', 'R-OSC');
  if (missing) return missing;
  const place = contourPoint();
  contourAt(context.section.outline, edge.nose, place);
  if (!(place.curvature > 0))
    return unmeasured('not-applicable', `The ${edge.which} edge is not convex at its nose.`, 'mm', 'R-OSC');
  const radius = 1 / place.curvature;
  const u = context.noise ? radius * radius * context.noise.curvature(edge.nose) : null;
  return measured(radius, u, 'mm', 'R-OSC');
}

/**
 * Returns the radius of the least-squares circle through the points whose normal lies within the half angle of the
 * line of centres (R-LSQ); measured points when there are any, arc-length weights.
 */
export function fittedRadius(context: SectionContext, edge: EdgeContext): Value {
  const { section, contour, options, noise } = context;
  const parameters = { halfAngleDeg: options.edgeHalfAngleDeg };
  const none = (status: 'not-applicable' | 'not-converged', why: string) =>
    unmeasured(status, why, 'mm', 'R-LSQ', { parameters });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return none('not-applicable', reason);
  const arc = edgeArc(contour, edge.nose, edge.outX, edge.outY, (options.edgeHalfAngleDeg * Math.PI) / 180);
  if (!arc) return none('not-applicable', `A corner lies within the arc of the ${edge.which} edge.`);
  const missing = lacking(context, [[arc.from, arc.to, `the ${edge.which} edge`]], 'mm', 'R-LSQ');
  if (missing) return { ...missing, parameters };
  const points = arcPoints(section.outline, section.fitted, arc);
  const fit = fitCircle(points.x, points.y, points.weights);
  if (!fit?.converged) return none('not-converged', 'The circle did not settle on the edge points.');
  const u = noise && points.measured ? placeSigma(points, noise.sigma) * Math.sqrt(fit.covariance[8]) : null;
  return measured(fit.radius, u, 'mm', 'R-LSQ', {
    parameters,
    evidence: {
      points: points.measured ? points.count : 0,
      rms: pointRms(points, fit.rms),
      centreX: fit.x,
      centreY: fit.y,
    },
  });
}
