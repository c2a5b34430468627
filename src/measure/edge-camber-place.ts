import { circleAt } from './camber-line.ts';
import { type Inscribed, inscribedAt } from './inscribed-circle.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';

/** A place of the line of centres or of its straight extension to the edge. */
export interface CamberPlace {
  x: number;
  y: number;
  /** Unit direction of the line, from the edge into the section. */
  dx: number;
  dy: number;
  /** Inscribed circle centred there, null on the extension and where none is found. */
  circle: Inscribed | null;
}

const FREE = Number.POSITIVE_INFINITY;
const LIMITS = { firstLow: -FREE, firstHigh: FREE, secondLow: -FREE, secondHigh: FREE };

/**
 * Returns the place a length along the line of centres from the end-circle centre, or null beyond its other end.
 * @param depth length into the section (mm); negative on the straight extension towards the edge
 */
export function camberPlace(context: SectionContext, edge: EdgeContext, depth: number): CamberPlace | null {
  const { line, contour } = context;
  const { end, outX, outY } = edge;
  if (!line || depth > line.length) return null;
  const straight: CamberPlace = {
    x: end.x - depth * outX,
    y: end.y - depth * outY,
    dx: -outX,
    dy: -outY,
    circle: null,
  };
  if (depth <= 0) return straight;
  const way = edge.which === 'leading' ? 1 : -1;
  const nearest = way > 0 ? line.circles[0] : line.circles[line.circles.length - 1];
  const gap = way > 0 ? line.along[0] : line.length - line.along[line.along.length - 1];
  const circle =
    depth >= gap
      ? circleAt(contour, line, way > 0 ? depth : line.length - depth)
      : inscribedAt(contour.outline, nearest, way * (depth - gap), LIMITS);
  if (circle && circle.room >= 0) return { x: circle.x, y: circle.y, dx: way * circle.tx, dy: way * circle.ty, circle };
  if (depth >= gap) return null;
  const part = depth / gap;
  return {
    ...straight,
    x: end.x + part * (nearest.x - end.x),
    y: end.y + part * (nearest.y - end.y),
  };
}

/** Returns the place of the line whose coordinate along (dx, dy) is `station` (mm), by Newton's method; null when there is none. */
export function camberPlaceAtStation(
  context: SectionContext,
  edge: EdgeContext,
  dx: number,
  dy: number,
  station: number,
): CamberPlace | null {
  let depth = station - (edge.end.x * dx + edge.end.y * dy);
  for (let turn = 0; turn < 12; turn++) {
    const found = camberPlace(context, edge, depth);
    if (!found) return null;
    const missing = station - (found.x * dx + found.y * dy);
    if (Math.abs(missing) <= 1e-12 * context.contour.perimeter) return found;
    const cosine = found.dx * dx + found.dy * dy;
    if (!(cosine > 0.2)) return null;
    depth += missing / cosine;
  }
  return camberPlace(context, edge, depth);
}
