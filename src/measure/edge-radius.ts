import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { edgeArc } from './edge-arc.ts';
import { type ArcEndShift, arcCircle, normalDeg } from './edge-circle.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';
import { zoneCut } from './zone-of-edge.ts';

const place = contourPoint();

/** Why an edge has no radius, or null when it may have one. */
export function noArcReason(edge: EdgeContext, cornered: boolean): string | null {
  if (edge.end.kind === 'sharp') return `The ${edge.which} edge is sharp: it has no arc.`;
  if (edge.end.kind === 'flat' && cornered) return `The ${edge.which} edge ends in a flat: it has no arc.`;
  return null;
}

/** True when the outline has a corner between the last contacts of the edge. */
export function hasCorner(context: SectionContext, edge: EdgeContext): boolean {
  return cornersBetween(context, edge.end.from, edge.end.to).length > 0;
}

/** Returns the parameters of the outline's corners in [from, to), rising from `from`. */
export function cornersBetween(context: SectionContext, from: number, to: number): number[] {
  const { outline } = context.section;
  return [...outline.corners]
    .map((corner) => corner - outline.period * Math.floor((corner - from) / outline.period))
    .filter((corner) => corner < to)
    .sort((a, b) => a - b);
}

/** Returns 1 / curvature where the normal lies along the line of centres (R-OSC). */
export function noseRadius(context: SectionContext, edge: EdgeContext): Value {
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return unmeasured('not-applicable', reason, 'mm', 'R-OSC');
  const missing = lacking(context, [[edge.nose, edge.nose, `the ${edge.which} edge`]], 'mm', 'R-OSC');
  if (missing) return missing;
  contourAt(context.section.outline, edge.nose, place);
  if (!(place.curvature > 0))
    return unmeasured('not-applicable', `The ${edge.which} edge is not convex at its nose.`, 'mm', 'R-OSC');
  const radius = 1 / place.curvature;
  const u = context.noise ? radius * radius * context.noise.curvature(edge.nose) : null;
  const normal = normalDeg(context, edge.nose);
  return measured(radius, u, 'mm', 'R-OSC', {
    evidence: {
      centreX: place.x - radius * place.ty,
      centreY: place.y + radius * place.tx,
      fromDeg: normal,
      toDeg: normal,
    },
  });
}

/**
 * Returns the radius of the circle through the whole arc of an edge, its ends found from the points (R-ARC): the longest
 * arc that a circle explains within the noise, every point with equal weight. Not applicable where no circle does.
 */
export function arcRadius(context: SectionContext, edge: EdgeContext): Value {
  const none = (status: 'not-applicable', why: string) => unmeasured(status, why, 'mm', 'R-ARC');
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return none('not-applicable', reason);
  const { end } = edge;
  if (!end.isCircle) return none('not-applicable', `No circle follows the ${edge.which} edge within the noise.`);
  const [from, to] = end.shape ? [end.shape.from, end.shape.to] : [end.from, end.to];
  const missing = lacking(context, [[from, to, `the ${edge.which} edge`]], 'mm', 'R-ARC');
  if (missing) return missing;
  return measured(end.radius, end.shape ? end.u : null, 'mm', 'R-ARC', {
    evidence: {
      points: end.shape?.count ?? 0,
      rms: end.shape?.rms ?? 0,
      centreX: end.x,
      centreY: end.y,
      fromDeg: normalDeg(context, from),
      toDeg: normalDeg(context, to),
    },
  });
}

/**
 * Returns the radius of the least-squares circle through the points whose normal lies within the half angle of the
 * line of centres (R-LSQ); measured points when there are any, arc-length weights.
 * @param halfAngleDeg half angle of normal direction (degrees)
 */
export function fittedRadius(context: SectionContext, edge: EdgeContext, halfAngleDeg: number): Value {
  const { contour, noise } = context;
  const parameters = { halfAngleDeg };
  const none = (why: string) => unmeasured('not-applicable', why, 'mm', 'R-LSQ', { parameters });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return none(reason);
  const arc = edgeArc(contour, edge.nose, edge.outX, edge.outY, (halfAngleDeg * Math.PI) / 180);
  if (!arc) return none(`A corner lies within the arc of the ${edge.which} edge.`);
  let shift: ArcEndShift | null = null;
  if (noise) {
    const most = 0.25 * (arc.to - arc.from);
    const moved = (t: number, angle: number) => Math.min(most, angle * bendRadius(context, t));
    const tilt = edge.uDirection ?? 0;
    shift = {
      from: moved(arc.from, noise.direction(arc.from)),
      to: moved(arc.to, noise.direction(arc.to)),
      commonFrom: -moved(arc.from, tilt),
      commonTo: moved(arc.to, tilt),
    };
  }
  return arcCircle(context, edge, arc, 'R-LSQ', parameters, shift);
}

/**
 * Returns the radius of the least-squares circle through the points within a set-back of the nose, along the line of
 * centres (R-SB); measured points when there are any, arc-length weights.
 * @param setback distance from the nose (mm)
 */
export function setbackRadius(context: SectionContext, edge: EdgeContext, setback: number): Value {
  const { noise } = context;
  const parameters = { setback };
  const none = (why: string) => unmeasured('not-applicable', why, 'mm', 'R-SB', { parameters });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return none(reason);
  const cut = zoneCut(context, edge, setback);
  if (!cut) return none('The section is too short for the set-back.');
  if (cornersBetween(context, cut.before, cut.after).length > 0)
    return none(`A corner lies within the set-back of the ${edge.which} edge.`);
  let shift: ArcEndShift | null = null;
  if (noise) {
    const along = (t: number) => {
      contourAt(context.section.outline, t, place);
      const forward = Math.abs(place.tx * edge.outX + place.ty * edge.outY);
      const facing = Math.abs(place.ty * edge.outX - place.tx * edge.outY);
      return { own: (noise.at(t) * facing) / forward, common: noise.at(edge.nose) / forward };
    };
    const from = along(cut.before);
    const to = along(cut.after);
    shift = { from: from.own, to: to.own, commonFrom: from.common, commonTo: to.common };
  }
  return arcCircle(context, edge, { from: cut.before, nose: edge.nose, to: cut.after }, 'R-SB', parameters, shift);
}

/** Radius of curvature of the outline (mm), infinite where it is straight. */
function bendRadius(context: SectionContext, t: number): number {
  contourAt(context.section.outline, t, place);
  return 1 / Math.abs(place.curvature);
}
