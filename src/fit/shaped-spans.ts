import { conicFoot } from '../math/ellipse-fit.ts';
import type { EdgeShape } from '../model/outline.ts';
import type { ClosedKnots } from './closed-basis.ts';

/** Spans of a closed spline that are drawn to a known shape. */
export interface ShapedSpans {
  /** 1 where a span lies on a shape. */
  mask: Uint8Array;
  /** Third derivative by arc length of the shape over each span, x0, y0, …; 0 elsewhere. */
  targets: Float64Array;
}

/** An edge's shape and where its arc lies on the spline. */
export interface PlacedShape {
  shape: EdgeShape;
  from: number;
  to: number;
}

/**
 * Returns the spans on given shapes with the shape's mean third derivative: the change of its curvature vector over the
 * span, by length. The spline's parameter is taken for the arc length.
 * @param placeAt writes the present outline's point at a parameter of the spline to `out[0…1]`
 */
export function shapedSpans(
  closed: ClosedKnots,
  shapes: readonly PlacedShape[],
  placeAt: (t: number, out: Float64Array) => void,
): ShapedSpans {
  const n = closed.knots.length;
  const mask = new Uint8Array(n);
  const targets = new Float64Array(2 * n);
  const place = new Float64Array(8);
  const [a, b] = [new Float64Array(2), new Float64Array(2)];
  const tolerance = 1e-9 * closed.period;
  for (let k = 0; k < n; k++) {
    const start = closed.extended[k + 3];
    const end = closed.extended[k + 4];
    if (end <= start) continue;
    for (const { shape, from, to } of shapes) {
      const shift = closed.period * Math.round((0.5 * (from + to) - 0.5 * (start + end)) / closed.period);
      if (start + shift < from - tolerance || end + shift > to + tolerance) continue;
      placeAt(start, place);
      curvatureVector(shape, place[0], place[1], a);
      placeAt(end, place);
      curvatureVector(shape, place[0], place[1], b);
      mask[k] = 1;
      targets[2 * k] = (b[0] - a[0]) / (end - start);
      targets[2 * k + 1] = (b[1] - a[1]) / (end - start);
    }
  }
  return { mask, targets };
}

/** Second derivative by arc length of a shape at the foot of a point: curvature times the inward normal. */
function curvatureVector(shape: EdgeShape, x: number, y: number, out: Float64Array): void {
  const { noseX, noseY, outX, outY, radius, e } = shape;
  const dx = x - noseX;
  const dy = y - noseY;
  const foot = conicFoot(-dx * outX - dy * outY, dx * outY - dy * outX, radius, e);
  const fu = e * foot[0] - radius;
  const fv = foot[1];
  const size = Math.hypot(fu, fv);
  const curvature = (e * fv * fv + fu * fu) / size ** 3;
  const u = (-curvature * fu) / size;
  const v = (-curvature * fv) / size;
  out[0] = -u * outX + v * outY;
  out[1] = -u * outY - v * outX;
}
