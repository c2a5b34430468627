import type { BsplineCurve, BsplineSurface } from '../model/bspline.ts';
import { bsplineCurveAt, bsplineIsoCurve, CURVE_PLACE_SIZE } from '../spatial/bspline-evaluate.ts';
import type { LoftSection } from './loft-surface.ts';
import { outlineFeet } from './outline-foot.ts';

/** Parts of a knot span at whose ends the distance is measured. */
const PARTS = 4;

/**
 * Returns how far (mm) the curves of constant v of a surface whose v is the height lie from section outlines at their
 * heights: the largest distance of a curve's point, four a knot span, from its foot on the outline.
 */
export function sectionsDifference(
  surface: BsplineSurface,
  sections: readonly Pick<LoftSection, 'height' | 'outline'>[],
): number {
  let most = 0;
  for (const { height, outline } of sections) {
    const points = curvePoints(bsplineIsoCurve(surface, height));
    const count = points.length >> 1;
    const t = new Float64Array(count);
    const distance = new Float64Array(count);
    outlineFeet(outline, points, null, t, distance);
    for (const value of distance) most = Math.max(most, Math.abs(value));
  }
  return most;
}

/** Points x0, y0, x1, … of a curve over its whole domain. */
function curvePoints(curve: BsplineCurve): Float64Array {
  const { knots, degree } = curve;
  const points: number[] = [];
  const out = new Float64Array(CURVE_PLACE_SIZE);
  for (let k = degree; k < knots.length - degree - 1; k++) {
    if (knots[k + 1] <= knots[k]) continue;
    for (let part = 0; part < PARTS; part++) {
      bsplineCurveAt(curve, knots[k] + (part / PARTS) * (knots[k + 1] - knots[k]), out);
      points.push(out[0], out[1]);
    }
  }
  return Float64Array.from(points);
}
