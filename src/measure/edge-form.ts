import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { areaBetween, type Cut, cutThickness } from './cut-thickness.ts';
import { edgeArc } from './edge-arc.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

const PLACES = 400;

/** Cut normal to the line of centres at the set-back of the form measures; null when that is half the section. */
function formCut(context: SectionContext, edge: EdgeContext): Cut | null {
  const b = context.options.formSetback;
  if (b > 0.5 * context.far.length) return null;
  return cutThickness(context.contour, edge.nose, -edge.outX, -edge.outY, b);
}

/** Returns area over set-back times thickness of the piece ahead of a cut normal to the line of centres (F-EDGE). */
export function fullness(context: SectionContext, edge: EdgeContext): Value {
  const { contour, options, noise } = context;
  const b = options.formSetback;
  const parameters = { setback: b };
  const cut = formCut(context, edge);
  if (!cut)
    return unmeasured('not-applicable', 'The section is too short for the set-back.', '1', 'F-EDGE', { parameters });
  const missing = lacking(context, [[cut.before, cut.after, `the ${edge.which} edge`]], '1', 'F-EDGE');
  if (missing) return { ...missing, parameters };
  const area = areaBetween(contour, cut.before, cut.after);
  const value = area / (b * cut.thickness);
  const ends = noise ? Math.hypot(noise.at(cut.before), noise.at(cut.after)) : null;
  const u = ends === null || !noise ? null : value * Math.hypot(ends / cut.thickness, noise.at(edge.nose) / b);
  return measured(value, u, '1', 'F-EDGE', { parameters });
}

/** Returns the unequal share of area to either side of the extended line of centres, first minus second side (ASYM). */
export function asymmetry(context: SectionContext, edge: EdgeContext): Value {
  const { contour, options, noise } = context;
  const b = options.formSetback;
  const parameters = { setback: b, sign: 'positive: more material on the suction side' };
  const cut = formCut(context, edge);
  if (!cut)
    return unmeasured('not-applicable', 'The section is too short for the set-back.', '1', 'ASYM', { parameters });
  const missing = lacking(context, [[cut.before, cut.after, `the ${edge.which} edge`]], '1', 'ASYM');
  if (missing) return { ...missing, parameters };
  const place = contourPoint();
  contourAt(contour.outline, edge.nose, place);
  const nose = place.x * edge.outX + place.y * edge.outY;
  const depth = nose - b - (edge.pointX * edge.outX + edge.pointY * edge.outY);
  const footX = edge.pointX + depth * edge.outX;
  const footY = edge.pointY + depth * edge.outY;
  const ahead = sectorArea(context, edge.point, cut.after, footX, footY);
  const behind = sectorArea(context, cut.before, edge.point, footX, footY);
  const suctionAhead = (context.section.edges.firstSide === 'suction') === (edge.which === 'leading');
  const value = (suctionAhead ? 1 : -1) * ((ahead - behind) / (ahead + behind));
  const total = ahead + behind;
  const across = noise ? Math.hypot(noise.at(cut.before), noise.at(cut.after), noise.at(edge.point)) : null;
  return measured(value, across === null ? null : (across * b) / total, '1', 'ASYM', { parameters });
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
 * Returns the longest stretch of the edge arc (normals within the half angle of R-LSQ) that fits between two parallel
 * lines a given width apart (FLAT), its chord direction taken for that of the lines.
 */
export function flatLength(context: SectionContext, edge: EdgeContext): Value {
  const { contour, options, noise } = context;
  const width = Math.max(options.flatWidth, noise ? 3 * noise.at(edge.nose) : 0);
  const parameters = { width, halfAngleDeg: options.edgeHalfAngleDeg };
  const half = (options.edgeHalfAngleDeg * Math.PI) / 180;
  const arc = edgeArc(contour, edge.nose, edge.outX, edge.outY, half) ?? { from: edge.end.from, to: edge.end.to };
  if (edge.end.kind === 'sharp')
    return unmeasured('not-applicable', `The ${edge.which} edge is sharp: it has no arc.`, 'mm', 'FLAT', {
      parameters,
    });
  const missing = lacking(context, [[arc.from, arc.to, `the ${edge.which} edge`]], 'mm', 'FLAT');
  if (missing) return { ...missing, parameters };
  const x = new Float64Array(PLACES + 1);
  const y = new Float64Array(PLACES + 1);
  const place = contourPoint();
  for (let i = 0; i <= PLACES; i++) {
    contourAt(contour.outline, arc.from + ((arc.to - arc.from) * i) / PLACES, place);
    x[i] = place.x;
    y[i] = place.y;
  }
  let longest = 0;
  let to = 1;
  for (let from = 0; from < PLACES; from++) {
    to = Math.max(to, from + 1);
    while (to < PLACES && widthOf(x, y, from, to + 1) <= width) to++;
    longest = Math.max(longest, Math.hypot(x[to] - x[from], y[to] - y[from]));
  }
  return measured(longest, null, 'mm', 'FLAT', { parameters });
}

function widthOf(x: Float64Array, y: Float64Array, from: number, to: number): number {
  const length = Math.hypot(x[to] - x[from], y[to] - y[from]);
  let low = 0;
  let high = 0;
  for (let i = from + 1; i < to; i++) {
    const d = ((x[to] - x[from]) * (y[i] - y[from]) - (y[to] - y[from]) * (x[i] - x[from])) / length;
    low = Math.min(low, d);
    high = Math.max(high, d);
  }
  return high - low;
}
