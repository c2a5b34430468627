import { conicDistance } from '../math/ellipse-fit.ts';
import type { Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { type EdgeArc, edgeArc } from './edge-arc.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';

/** Points round an edge with their signed distance from the circle or ellipse that a definition fits there. */
export interface EdgeTrace {
  /** Angle of the outward normal from the outward direction of the line of centres, -100 … 100 (degrees). */
  angleDeg: number[];
  /** Distance from the fitted curve (mm), positive outside it. */
  residual: number[];
  x: number[];
  y: number[];
}

/** Distance of a point from a curve (mm), positive outside; null where there is no foot. */
type DistanceFrom = (x: number, y: number) => number | null;

/** Half angle of normal direction that is shown (degrees), and smaller ones where a corner comes first. */
const HALF_ANGLES = [100, 90, 80, 70, 60];
/** Length of outline to either side of the nose that is shown, in radii or half axes: flanks turn too slowly to end it. */
const REACH = 6;
/** Points at most; more are thinned evenly. */
const MOST = 1500;
/** Places of an exact outline. */
const PLACES = 241;
const DEG = 180 / Math.PI;

/**
 * Returns the points round an edge in their order along the outline: those measured, else places of the outline. Null
 * where the value names no curve, or the edge ends in a corner.
 * @param value of a radius or an ellipse; its evidence holds the centre of the circle, or nose, axis and semi-axes
 */
export function edgeTrace(context: SectionContext, edge: EdgeContext, value: Value): EdgeTrace | null {
  const distance = distanceFrom(value);
  const arc = distance && shownArc(context, edge, REACH * Math.abs(value.value ?? 0));
  if (!distance || !arc) return null;
  const { outline, fitted } = context.section;
  const trace: EdgeTrace = { angleDeg: [], residual: [], x: [], y: [] };
  const place = contourPoint();
  const add = (t: number, point: readonly [number, number] | null): void => {
    contourAt(outline, t, place);
    const [x, y] = point ?? [place.x, place.y];
    const residual = distance(x, y);
    if (residual === null) return;
    const { outX, outY } = edge;
    trace.angleDeg.push(Math.atan2(-place.tx * outX - place.ty * outY, place.ty * outX - place.tx * outY) * DEG);
    trace.residual.push(residual);
    trace.x.push(x);
    trace.y.push(y);
  };
  if (!fitted) {
    for (let i = 0; i < PLACES; i++) add(arc.from + ((arc.to - arc.from) * i) / (PLACES - 1), null);
    return trace;
  }
  const { points, parameters } = fitted;
  const inside = feetWithin(parameters, arc, outline.period);
  const stride = Math.max(1, Math.ceil(inside.length / MOST));
  for (let k = 0; k < inside.length; k += stride) {
    const i = inside[k];
    add(parameters[i], [points[2 * i], points[2 * i + 1]]);
  }
  return trace;
}

/** The stretch over the widest half angle that no corner cuts short, within a reach (mm) of the nose. */
function shownArc(context: SectionContext, edge: EdgeContext, reach: number): EdgeArc | null {
  const place = contourPoint();
  contourAt(context.section.outline, edge.nose, place);
  const most = reach / place.speed;
  for (const angle of HALF_ANGLES) {
    const arc = edgeArc(context.contour, edge.nose, edge.outX, edge.outY, angle / DEG);
    if (!arc) continue;
    return { from: Math.max(arc.from, arc.nose - most), nose: arc.nose, to: Math.min(arc.to, arc.nose + most) };
  }
  return null;
}

/** Indices of the feet within an arc, in their order along it. */
function feetWithin(parameters: Float64Array, arc: EdgeArc, period: number): number[] {
  const along = (t: number) => t - arc.from - period * Math.floor((t - arc.from) / period);
  const inside: number[] = [];
  for (let i = 0; i < parameters.length; i++) if (along(parameters[i]) <= arc.to - arc.from) inside.push(i);
  return inside.sort((a, b) => along(parameters[a]) - along(parameters[b]) || a - b);
}

/** The distance from the curve a value's evidence describes. */
function distanceFrom({ value, evidence = {} }: Value): DistanceFrom | null {
  const { noseX, noseY, axisDeg, a, b, centreX, centreY } = evidence;
  if (value === null) return null;
  if (isNumber(noseX) && isNumber(noseY) && isNumber(axisDeg) && isNumber(a) && isNumber(b)) {
    const cos = Math.cos(axisDeg / DEG);
    const sin = Math.sin(axisDeg / DEG);
    return (x, y) => {
      const along = (x - noseX) * cos + (y - noseY) * sin;
      const across = (y - noseY) * cos - (x - noseX) * sin;
      return conicDistance(along, across, (b * b) / a, (b / a) ** 2);
    };
  }
  if (!isNumber(centreX) || !isNumber(centreY)) return null;
  return (x, y) => Math.hypot(x - centreX, y - centreY) - value;
}

function isNumber(value: unknown): value is number {
  return typeof value === 'number';
}
