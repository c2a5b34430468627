import { type Contour, contourAt, contourPoint } from './contour.ts';
import { convexHull } from './convex-hull.ts';
import { gapAround, heldByCorner } from './extreme.ts';

/** A chord: its end towards the leading and the trailing edge, and its length (mm). */
export interface Chord {
  leadingT: number;
  leadingX: number;
  leadingY: number;
  trailingT: number;
  trailingX: number;
  trailingY: number;
  length: number;
}

const a = contourPoint();
const b = contourPoint();

/**
 * Returns the longest distance between two outline points (CH-FAR): antipodal pairs of the convex hull by rotating
 * calipers, then Newton's method on both ends; an end at a corner stays there.
 * @param leadingX,leadingY a point near the leading edge (mm), to tell the ends apart
 */
export function farChord(contour: Contour, leadingX: number, leadingY: number): Chord {
  const { x, y, outline } = contour;
  const hull = convexHull(x, y);
  const h = hull.length;
  let far = 1;
  let first = 0;
  let second = 0;
  let longest = -1;
  const keep = (i: number, j: number) => {
    const d = (x[i] - x[j]) ** 2 + (y[i] - y[j]) ** 2;
    if (d > longest) [longest, first, second] = [d, i, j];
  };
  const area = (i: number, j: number, k: number) => (x[j] - x[i]) * (y[k] - y[i]) - (y[j] - y[i]) * (x[k] - x[i]);
  for (let k = 0; k < h; k++) {
    const i = hull[k];
    const j = hull[(k + 1) % h];
    while (area(i, j, hull[(far + 1) % h]) > area(i, j, hull[far])) {
      far = (far + 1) % h;
      keep(i, hull[far]);
    }
    keep(i, hull[far]);
    keep(j, hull[far]);
  }
  const dx = x[second] - x[first];
  const dy = y[second] - y[first];
  const holdA = heldByCorner(outline, contour.t[first], contour.corner[first] === 1, -dx, -dy);
  const holdB = heldByCorner(outline, contour.t[second], contour.corner[second] === 1, dx, dy);
  let ta = contour.t[first];
  let tb = contour.t[second];
  const reachA = gapAround(contour, first);
  const reachB = gapAround(contour, second);
  for (let step = 0; step < 30; step++) {
    contourAt(outline, ta, a);
    contourAt(outline, tb, b);
    const ex = b.x - a.x;
    const ey = b.y - a.y;
    const ga = -(ex * a.tx + ey * a.ty) * a.speed;
    const gb = (ex * b.tx + ey * b.ty) * b.speed;
    let aa = (1 - a.curvature * (ey * a.tx - ex * a.ty)) * a.speed * a.speed;
    let bb = (1 + b.curvature * (ey * b.tx - ex * b.ty)) * b.speed * b.speed;
    let ab = -(a.tx * b.tx + a.ty * b.ty) * a.speed * b.speed;
    if (holdA) [aa, ab] = [Number.POSITIVE_INFINITY, 0];
    if (holdB) [bb, ab] = [Number.POSITIVE_INFINITY, 0];
    if (!(aa * bb > ab * ab)) ab = 0;
    const det = aa * bb - ab * ab;
    const stepA = holdA ? 0 : holdB ? -ga / aa : -(ga * bb - gb * ab) / det;
    const stepB = holdB ? 0 : holdA ? -gb / bb : -(gb * aa - ga * ab) / det;
    ta += Math.max(-reachA, Math.min(reachA, stepA));
    tb += Math.max(-reachB, Math.min(reachB, stepB));
    if (Math.abs(stepA) + Math.abs(stepB) <= 1e-13 * outline.period) break;
  }
  contourAt(outline, ta, a);
  contourAt(outline, tb, b);
  const swap = Math.hypot(a.x - leadingX, a.y - leadingY) > Math.hypot(b.x - leadingX, b.y - leadingY);
  const [tl, l, tt, t] = swap ? [tb, b, ta, a] : [ta, a, tb, b];
  const length = Math.hypot(t.x - l.x, t.y - l.y);
  return { leadingT: tl, leadingX: l.x, leadingY: l.y, trailingT: tt, trailingX: t.x, trailingY: t.y, length };
}
