import { type Contour, contourAt, contourPoint } from './contour.ts';
import { convexHull } from './convex-hull.ts';
import { extremeAlong, gapAround, heldByCorner } from './extreme.ts';

/** The line that rests on both edges on the concave side. */
export interface Bitangent {
  /** Parameters of the two contacts, the one nearer the leading edge first. */
  leadingT: number;
  trailingT: number;
  /** Unit direction from the leading to the trailing edge. */
  directionX: number;
  directionY: number;
  /** Extent of the outline along that direction (mm). */
  length: number;
  /** Largest distance of the outline inside the line, between the contacts (mm). */
  depth: number;
}

/** A hull edge shorter than this share of the outline's extent is no bridge between the edges. */
const LEAST_BRIDGE = 0.3;
const a = contourPoint();
const b = contourPoint();

/**
 * Returns the bitangent (CH-BT), or null where no hull edge bridges 30 % of the outline (biconvex). Longest edge of the
 * convex hull, then Newton's method on both tangency conditions; a contact at a corner stays there.
 * @param directionX,directionY unit vector roughly from the leading to the trailing edge
 */
export function bitangent(contour: Contour, directionX: number, directionY: number): Bitangent | null {
  const { x, y, outline } = contour;
  const hull = convexHull(x, y);
  let longest = 0;
  let from = 0;
  let to = 0;
  for (let k = 0; k < hull.length; k++) {
    const i = hull[k];
    const j = hull[(k + 1) % hull.length];
    const length = Math.hypot(x[j] - x[i], y[j] - y[i]);
    if (length > longest) [longest, from, to] = [length, i, j];
  }
  const extent = span(contour, (x[to] - x[from]) / longest, (y[to] - y[from]) / longest);
  if (longest < LEAST_BRIDGE * extent) return null;
  let ta = contour.t[from];
  let tb = contour.t[to];
  const outX = (y[to] - y[from]) / longest;
  const outY = -(x[to] - x[from]) / longest;
  const holdA = heldByCorner(outline, ta, contour.corner[from] === 1, outX, outY);
  const holdB = heldByCorner(outline, tb, contour.corner[to] === 1, outX, outY);
  const reachA = gapAround(contour, from);
  const reachB = gapAround(contour, to);
  for (let step = 0; step < 30; step++) {
    contourAt(outline, ta, a);
    contourAt(outline, tb, b);
    const ex = b.x - a.x;
    const ey = b.y - a.y;
    const fa = a.tx * ey - a.ty * ex;
    const fb = b.tx * ey - b.ty * ex;
    const cross = a.tx * b.ty - a.ty * b.tx;
    const aa = holdA ? 1 : a.curvature * (-a.ty * ey - a.tx * ex);
    const bb = holdB ? 1 : b.curvature * (-b.ty * ey - b.tx * ex);
    const ab = holdA ? 0 : cross;
    const ba = holdB ? 0 : cross;
    const ra = holdA ? 0 : fa;
    const rb = holdB ? 0 : fb;
    const det = aa * bb - ab * ba;
    if (det === 0) break;
    const sa = -(ra * bb - ab * rb) / det;
    const sb = -(aa * rb - ba * ra) / det;
    ta += Math.max(-reachA, Math.min(reachA, sa / a.speed));
    tb += Math.max(-reachB, Math.min(reachB, sb / b.speed));
    if (Math.abs(sa) + Math.abs(sb) <= 1e-12 * longest) break;
  }
  contourAt(outline, ta, a);
  contourAt(outline, tb, b);
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const dx = (b.x - a.x) / length;
  const dy = (b.y - a.y) / length;
  let depth = 0;
  for (let i = from; i !== to; i = (i + 1) % contour.count)
    depth = Math.max(depth, (x[i] - a.x) * -dy + (y[i] - a.y) * dx);
  const forward = dx * directionX + dy * directionY > 0;
  return {
    leadingT: forward ? ta : tb,
    trailingT: forward ? tb : ta,
    directionX: forward ? dx : -dx,
    directionY: forward ? dy : -dy,
    length: span(contour, dx, dy),
    depth,
  };
}

/** Returns the extent of the outline along a unit direction (mm). */
function span(contour: Contour, dx: number, dy: number): number {
  return extremeAlong(contour, dx, dy).value + extremeAlong(contour, -dx, -dy).value;
}
