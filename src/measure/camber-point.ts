import { windowCircles, windowLine } from './camber-window.ts';
import { contourAt, contourPoint } from './contour.ts';
import { edgePointAcross } from './edge-point-across.ts';
import { termsUncertainty } from './outline-terms.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';
import { supportUncertainty } from './shape-support.ts';

export type Extension = 'straight' | 'arc';

/** Edge point EP-CAM: where the extended line of centres meets the outline. */
export interface CamberPoint {
  t: number;
  x: number;
  y: number;
  /** Unit direction of the extension there, outward. */
  outX: number;
  outY: number;
  /** Standard uncertainty (mm) along and across that direction, null without noise. */
  along: number | null;
  across: number | null;
}

/** Window (% of the line of centres) whose circle is the arc of an extension. */
const ARC_WINDOW = { from: 2, to: 12 };

/**
 * Returns the edge point by a straight extension (tangent of the line of centres at its end) or by an arc (circle
 * through the centres of the window), null where the arc cannot be found. A sharp edge has its corner either way.
 */
export function camberPoint(context: SectionContext, edge: EdgeContext, extension: Extension): CamberPoint | null {
  const { line, section, noise } = context;
  const { pointX: x, pointY: y, outX, outY } = edge;
  const straight: CamberPoint = {
    t: edge.point,
    x,
    y,
    outX,
    outY,
    along: noise ? (shapeUncertainty(edge) ?? noise.at(edge.point)) : null,
    across: edgePointAcross(edge),
  };
  if (extension === 'straight' || edge.end.kind === 'sharp') return straight;
  if (!line) return null;
  const window = windowCircles(context, line, edge.which, ARC_WINDOW.from, ARC_WINDOW.to);
  if (typeof window === 'string') return null;
  const arc = windowLine(line, window, 'circle', x, y);
  if (!arc) return null;
  const { bend, offset } = arc;
  const c = Math.cos(arc.direction);
  const s = Math.sin(arc.direction);
  const sign = edge.which === 'leading' ? -1 : 1;
  const place = contourPoint();
  const left = (t: number): number => {
    contourAt(section.outline, t, place);
    const u = (place.x - x) * c + (place.y - y) * s;
    const v = (place.y - y) * c - (place.x - x) * s + offset;
    return sign * (v - 0.5 * bend * (u * u + v * v));
  };
  let low = edge.end.from;
  let high = edge.end.to;
  for (let turn = 0; turn < 60; turn++) {
    const middle = 0.5 * (low + high);
    if (left(middle) < 0) low = middle;
    else high = middle;
  }
  const t = 0.5 * (low + high);
  contourAt(section.outline, t, place);
  return {
    t,
    x: place.x,
    y: place.y,
    outX: sign * c,
    outY: sign * s,
    along: straight.along,
    across: termsUncertainty(noise, section.outline, arc.leftTerms),
  };
}

/** Standard uncertainty (mm) of a shaped edge's point along the line of centres, null without a shape. */
function shapeUncertainty({ end, outX, outY }: EdgeContext): number | null {
  return end.shape && supportUncertainty(end.shape, outX, outY, outX, outY);
}
