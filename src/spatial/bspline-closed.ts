import type { BsplineCurve, BsplineSurface } from '../model/bspline.ts';
import { bsplineCurveAt, bsplineSurfaceAt, CURVE_PLACE_SIZE, SURFACE_PLACE_SIZE } from './bspline-evaluate.ts';

/** First and last parameter of a knot vector's domain. */
export function bsplineDomain(knots: Float64Array, degree: number): [number, number] {
  return [knots[degree], knots[knots.length - 1 - degree]];
}

/** Returns the distance of a curve's two ends (mm). */
export function curveGap(curve: BsplineCurve): number {
  const [from, to] = bsplineDomain(curve.knots, curve.degree);
  const a = new Float64Array(CURVE_PLACE_SIZE);
  const b = new Float64Array(CURVE_PLACE_SIZE);
  bsplineCurveAt(curve, from, a);
  bsplineCurveAt(curve, to, b);
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/** Returns the largest distance of a surface's two borders across u (or v), at the other's knots and halfway (mm). */
export function surfaceGap(surface: BsplineSurface, across: 'u' | 'v'): number {
  const { knotsU, knotsV, degreeU, degreeV } = surface;
  const [uFrom, uTo] = bsplineDomain(knotsU, degreeU);
  const [vFrom, vTo] = bsplineDomain(knotsV, degreeV);
  const a = new Float64Array(SURFACE_PLACE_SIZE);
  const b = new Float64Array(SURFACE_PLACE_SIZE);
  const [knots, degree] = across === 'u' ? [knotsV, degreeV] : [knotsU, degreeU];
  let most = 0;
  for (let k = degree; k < knots.length - degree; k++) {
    for (const t of [knots[k], (knots[k] + knots[Math.min(k + 1, knots.length - 1 - degree)]) / 2]) {
      bsplineSurfaceAt(surface, across === 'u' ? uFrom : t, across === 'u' ? t : vFrom, a);
      bsplineSurfaceAt(surface, across === 'u' ? uTo : t, across === 'u' ? t : vTo, b);
      most = Math.max(most, Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]));
    }
  }
  return most;
}
