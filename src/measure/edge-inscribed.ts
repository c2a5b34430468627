import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { camberPlace } from './edge-camber-place.ts';
import { normalDeg } from './edge-circle.ts';
import { hasCorner, noArcReason } from './edge-radius.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

const DEG = 180 / Math.PI;

/**
 * Returns the radius of the inscribed circle centred on the line of centres at a set-back from the edge point EP-CAM
 * (R-MIC). Not applicable where the set-back ends within the end circle's own radius.
 * @param setback length along the line and its straight extension (mm)
 */
export function inscribedRadius(context: SectionContext, edge: EdgeContext, setback: number): Value {
  const { noise } = context;
  const parameters = { setback };
  const none = (why: string) => unmeasured('not-applicable', why, 'mm', 'R-MIC', { parameters });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return none(reason);
  const depth = setback - reachOf(edge);
  if (depth < 0) return none('The set-back is shorter than the end radius of the line of centres.');
  const circle = camberPlace(context, edge, depth)?.circle;
  if (!circle) return none('No inscribed circle touches both sides at the set-back.');
  const name = `the ${edge.which} edge`;
  const missing = lacking(
    context,
    [
      [edge.point, edge.point, name],
      [circle.first, circle.first, `${setback} mm from ${name}`],
      [circle.second, circle.second, `${setback} mm from ${name}`],
    ],
    'mm',
    'R-MIC',
  );
  if (missing) return { ...missing, parameters };
  const u = noise
    ? Math.hypot(noise.at(circle.first) / 2, noise.at(circle.second) / 2, circle.slope * noise.at(edge.point))
    : null;
  const before = edge.which === 'leading' ? circle.second : circle.first;
  const after = edge.which === 'leading' ? circle.first : circle.second;
  return measured(circle.radius, u, 'mm', 'R-MIC', {
    parameters,
    evidence: {
      centreX: circle.x,
      centreY: circle.y,
      fromDeg: normalDeg(context, before),
      toDeg: normalDeg(context, after),
      ...contactsOf(context, before, after),
    },
  });
}

/** Returns the radius of the circle at which the line of centres ends (R-END). */
export function endRadius(context: SectionContext, edge: EdgeContext): Value {
  const { noise } = context;
  const { end } = edge;
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return unmeasured('not-applicable', reason, 'mm', 'R-END');
  const missing = lacking(context, [[edge.nose, edge.nose, `the ${edge.which} edge`]], 'mm', 'R-END');
  if (missing) return missing;
  let u: number | null = null;
  if (noise && end.shape) u = Math.sqrt(end.shape.covariance[18]);
  // Before a flat end the sides alone hold the radius.
  else if (noise && end.kind === 'flat') u = Math.hypot(noise.at(end.from), noise.at(end.to)) / 2;
  else if (noise) u = end.radius ** 2 * noise.curvature(edge.nose);
  const normal = normalDeg(context, edge.nose);
  const { angleFrom, angleTo } = end.shape ?? { angleFrom: 0, angleTo: 0 };
  return measured(end.radius, u, 'mm', 'R-END', {
    evidence: { centreX: end.x, centreY: end.y, fromDeg: normal + angleFrom * DEG, toDeg: normal + angleTo * DEG },
  });
}

/** Distance (mm) from the end-circle centre to EP-CAM. */
export function reachOf(edge: EdgeContext): number {
  return Math.hypot(edge.pointX - edge.end.x, edge.pointY - edge.end.y);
}

/** Coordinates of two places of the outline, as evidence of a cut or a circle. */
export function contactsOf(
  context: SectionContext,
  first: number,
  second: number,
): { x1: number; y1: number; x2: number; y2: number } {
  const a = contourPoint();
  const b = contourPoint();
  contourAt(context.section.outline, first, a);
  contourAt(context.section.outline, second, b);
  return { x1: a.x, y1: a.y, x2: b.x, y2: b.y };
}
