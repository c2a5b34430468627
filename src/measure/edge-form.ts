import { measured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { areaBetween, type Cut } from './cut-thickness.ts';
import { contactsOf, reachOf } from './edge-inscribed.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';
import { isValue, lineVariance, measuredZone, suctionSign, sumAlong, zoneCut } from './zone-of-edge.ts';

const place = contourPoint();

/**
 * Returns area over set-back times thickness of the piece ahead of a cut normal to the line of centres (F-EDGE).
 * @param setback of the cut from the nose (mm)
 */
export function fullness(context: SectionContext, edge: EdgeContext, setback: number): Value {
  const parameters = { setback };
  const cut = measuredZone(context, edge, setback, '1', 'F-EDGE', parameters);
  if (isValue(cut)) return cut;
  const area = areaBetween(context.contour, cut.before, cut.after);
  const value = area / (setback * cut.thickness);
  const u = fullnessUncertainty(context, edge, setback, cut, area);
  return measured(value, u, '1', 'F-EDGE', { parameters, evidence: contactsOf(context, cut.before, cut.after) });
}

/** What the outline's displacement at the nose, at both contacts and between them changes in the fullness. */
function fullnessUncertainty(
  context: SectionContext,
  edge: EdgeContext,
  setback: number,
  cut: Cut,
  area: number,
): number | null {
  const { noise } = context;
  if (!noise) return null;
  const step = 0.01 * setback;
  const deeper = zoneCut(context, edge, setback + step);
  const rate = deeper ? (deeper.thickness - cut.thickness) / step : 0;
  const between = 1 / area;
  const atNose = rate / cut.thickness - cut.thickness / area;
  const lean = (t: number): number => {
    contourAt(context.section.outline, t, place);
    return Math.abs(place.tx * edge.outX + place.ty * edge.outY);
  };
  let variance = sumAlong(context, cut.before, cut.after, (t) => between * between * lineVariance(noise, t));
  variance += (atNose * noise.at(edge.nose)) ** 2 + 2 * atNose * between * lineVariance(noise, edge.nose);
  for (const t of [cut.before, cut.after]) {
    const contact = -1 / (cut.thickness * lean(t));
    variance += (contact * noise.at(t)) ** 2 + contact * between * lineVariance(noise, t);
  }
  return (area / (setback * cut.thickness)) * Math.sqrt(Math.max(0, variance));
}

/**
 * Returns the unequal share of area to either side of the extended line of centres ahead of a cut (ASYM): positive with
 * more material on the suction side.
 * @param setback of the cut from the nose (mm)
 */
export function asymmetry(context: SectionContext, edge: EdgeContext, setback: number): Value {
  const parameters = { setback };
  const cut = measuredZone(context, edge, setback, '1', 'ASYM', parameters);
  if (isValue(cut)) return cut;
  contourAt(context.section.outline, edge.nose, place);
  const nose = place.x * edge.outX + place.y * edge.outY;
  const depth = nose - setback - (edge.pointX * edge.outX + edge.pointY * edge.outY);
  const footX = edge.pointX + depth * edge.outX;
  const footY = edge.pointY + depth * edge.outY;
  const ahead = sectorArea(context, edge.point, cut.after, footX, footY);
  const behind = sectorArea(context, cut.before, edge.point, footX, footY);
  const total = ahead + behind;
  const value = (suctionSign(context, edge) * (ahead - behind)) / total;
  const u = asymmetryUncertainty(context, edge, setback, cut, total);
  return measured(value, u, '1', 'ASYM', { parameters, evidence: contactsOf(context, cut.before, cut.after) });
}

/** Area swept by the ray from a point to the outline between two parameters. */
function sectorArea(context: SectionContext, from: number, to: number, x: number, y: number): number {
  const a = contourPoint();
  const b = contourPoint();
  contourAt(context.section.outline, from, a);
  contourAt(context.section.outline, to, b);
  const triangle = 0.5 * ((a.x - x) * (b.y - y) - (a.y - y) * (b.x - x));
  return areaBetween(context.contour, from, to) + triangle;
}

/**
 * Displacement of the outline adds to the area of one side; what shifts the whole edge sideways also shifts the end of
 * the line of centres, which takes the same points. The direction of the line stands on other points.
 */
function asymmetryUncertainty(
  context: SectionContext,
  edge: EdgeContext,
  setback: number,
  cut: Cut,
  total: number,
): number | null {
  const { noise, section } = context;
  if (!noise || edge.uDirection === null) return null;
  const sine = (t: number): number => {
    contourAt(section.outline, t, place);
    return edge.outX * -place.tx - edge.outY * place.ty;
  };
  const { shape } = edge.end;
  const least = shape ? Math.cos(Math.min(-shape.angleFrom, shape.angleTo)) : 1;
  const held = (t: number): number => {
    const across = sine(t);
    return Math.sqrt(1 - across * across) > least ? across : 0;
  };
  const squares = sumAlong(context, cut.before, cut.after, (t) => held(t) ** 2);
  const shift = squares > 0 ? (2 * setback) / squares : 0;
  const gain = (t: number) => ((t > edge.point ? 1 : -1) - shift * held(t)) / total;
  const own = sumAlong(context, cut.before, cut.after, (t) => gain(t) ** 2 * lineVariance(noise, t));
  const loose = squares > 0 ? 0 : (2 * setback * (edge.end.uAcross ?? 0)) / total;
  const turn = (2 * edge.uDirection * (0.5 * setback * setback - setback * reachOf(edge))) / total;
  return Math.hypot(Math.sqrt(own), loose, turn);
}

/**
 * Returns the distance of the nose from the extended line of centres over the thickness at a set-back (ASYM-NOSE):
 * positive with the nose on the suction side.
 * @param setback at which the thickness is taken (mm)
 */
export function noseOffset(context: SectionContext, edge: EdgeContext, setback: number): Value {
  const { noise } = context;
  const parameters = { setback };
  const cut = measuredZone(context, edge, setback, '1', 'ASYM-NOSE', parameters);
  if (isValue(cut)) return cut;
  contourAt(context.section.outline, edge.nose, place);
  const { x, y, curvature } = place;
  const across = (y - edge.pointY) * edge.outX - (x - edge.pointX) * edge.outY;
  let u: number | null = null;
  if (noise && edge.uDirection !== null && curvature > 0) {
    const end = edge.end.uAcross ?? 0;
    const own = noise.direction(edge.nose) / curvature;
    const turn = (reachOf(edge) - 1 / curvature) * edge.uDirection;
    u = Math.hypot(Math.sqrt(Math.max(0, own * own - end * end)), turn) / cut.thickness;
  }
  return measured((suctionSign(context, edge) * across) / cut.thickness, u, '1', 'ASYM-NOSE', {
    parameters,
    evidence: { noseX: x, noseY: y, ...contactsOf(context, cut.before, cut.after) },
  });
}
