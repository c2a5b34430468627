import {
  type ConicForm,
  distanceInside,
  type EdgeCurve,
  type EdgeEvaluate,
  type EdgeJunction,
  edgeCurve,
  type NoseLine,
  signedCurvature,
} from './edge-curve.ts';

/** A conic tangent to both flanks at the junctions and to the nose line, as rational quadratic. */
export interface EdgeConic {
  kind: 'ellipse' | 'parabola' | 'hyperbola';
  /** Where the tangents meet (mm). */
  apexX: number;
  apexY: number;
  /** Weight of the apex. */
  weight: number;
  /** Parameter of the nose, where the tangent is parallel to the nose line. */
  noseAt: number;
  nose: { x: number; y: number };
  noseRadius: number;
  /** Curvature at the suction and pressure junction (1/mm, positive convex). */
  endCurvature: [number, number];
  /** Depth of the centre under the nose line over half the width there; null unless an ellipse. R = width / ratio. */
  ratio: number | null;
  /** Direction from the nose to the centre of an ellipse (not unit); null unless an ellipse. */
  axis: { x: number; y: number } | null;
  evaluate: EdgeEvaluate;
}

export type ConicRefusal = 'tangents-parallel' | 'apex-inside' | 'junction-beyond';

/** Weights this near to 1 are a parabola. */
const PARABOLA = 1e-12;

/**
 * Returns the conic that meets both flanks tangentially at the junctions and touches the nose line, or why there is
 * none. With d1, d2 the junctions' distances from the line and dA that of the apex beyond it the weight is √(d1 d2) / dA:
 * the distance of the curve's numerator, d1 (1 − t)² − 2 w dA t (1 − t) + d2 t², then has a double root, the nose.
 * Source: rational quadratics in Farin, Curves and Surfaces for CAGD; own derivation of the weight.
 */
export function edgeConic(first: EdgeJunction, second: EdgeJunction, line: NoseLine): EdgeConic | ConicRefusal {
  const cross = first.tangentX * second.tangentY - first.tangentY * second.tangentX;
  const d1 = distanceInside(line, first.x, first.y);
  const d2 = distanceInside(line, second.x, second.y);
  if (!(d1 > 0 && d2 > 0)) return 'junction-beyond';
  if (Math.abs(cross) < 1e-12) return 'tangents-parallel';
  const dx = second.x - first.x;
  const dy = second.y - first.y;
  const along = (dx * second.tangentY - dy * second.tangentX) / cross;
  const alongSecond = (dx * first.tangentY - dy * first.tangentX) / cross;
  const apexX = first.x + along * first.tangentX;
  const apexY = first.y + along * first.tangentY;
  const dA = -distanceInside(line, apexX, apexY);
  if (!(dA > 0 && along > 0 && alongSecond > 0)) return 'apex-inside';
  const weight = Math.sqrt(d1 * d2) / dA;
  const evaluate = rationalQuadratic(first.x, first.y, apexX, apexY, second.x, second.y, weight);
  const area = 0.5 * Math.abs((apexX - first.x) * dy - (apexY - first.y) * dx);
  const noseAt = Math.sqrt(d1) / (Math.sqrt(d1) + Math.sqrt(d2));
  const out = new Float64Array(8);
  evaluate(noseAt, out);
  const kind = Math.abs(weight - 1) < PARABOLA ? 'parabola' : weight < 1 ? 'ellipse' : 'hyperbola';
  return {
    kind,
    apexX,
    apexY,
    weight,
    noseAt,
    nose: { x: out[0], y: out[1] },
    noseRadius: 1 / Math.abs(signedCurvature(out)),
    endCurvature: [area / (weight ** 2 * along ** 3), area / (weight ** 2 * alongSecond ** 3)],
    ...(kind === 'ellipse' ? ellipseAxes(first, second, apexX, apexY, weight, line, out) : { ratio: null, axis: null }),
    evaluate,
  };
}

/** Returns a conic as finished edge curve. */
export function conicCurve(
  conic: EdgeConic,
  junctions: [EdgeJunction, EdgeJunction],
  line: NoseLine,
  form: ConicForm = 'conic',
  count = 201,
): EdgeCurve {
  return edgeCurve({ form, ratio: conic.ratio, junctions, line, evaluate: conic.evaluate }, conic.noseAt, count);
}

/**
 * Ratio and axis of the ellipse. In u (first − apex) + v (second − apex) from the apex it is (1 − u − v)² = 4 w² u v;
 * with p = u + v and q = u − v that is an ellipse about p = 1 / (1 − w²) with half ranges w / (1 − w²) and 1 / √(1 − w²),
 * which are conjugate half diameters.
 */
function ellipseAxes(
  first: EdgeJunction,
  second: EdgeJunction,
  apexX: number,
  apexY: number,
  weight: number,
  line: NoseLine,
  nose: Float64Array,
): { ratio: number; axis: { x: number; y: number } } {
  const open = 1 - weight * weight;
  const midX = 0.5 * (first.x + second.x) - apexX;
  const midY = 0.5 * (first.y + second.y) - apexY;
  const centreX = apexX + midX / open;
  const centreY = apexY + midY / open;
  const fx = (weight / open) * midX;
  const fy = (weight / open) * midY;
  const gx = (0.5 * (first.x - second.x)) / Math.sqrt(open);
  const gy = (0.5 * (first.y - second.y)) / Math.sqrt(open);
  const det = fx * gy - fy * gx;
  const m = (-line.inY * gy - line.inX * gx) / det;
  const n = (fx * line.inX + fy * line.inY) / det;
  const halfWidth = 1 / Math.hypot(m, n);
  return {
    ratio: distanceInside(line, centreX, centreY) / halfWidth,
    axis: { x: centreX - nose[0], y: centreY - nose[1] },
  };
}

function rationalQuadratic(
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  w: number,
): EdgeEvaluate {
  const coordinate = (t: number, a: number, b: number, c: number, out: Float64Array, at: number) => {
    const s = 1 - t;
    const d = s * s + 2 * w * s * t + t * t;
    const d1 = 2 * (w - 1) * (s - t);
    const d2 = 4 * (1 - w);
    const n1 = 2 * (-s * a + w * (s - t) * b + t * c);
    const n2 = 2 * (a - 2 * w * b + c);
    const value = (s * s * a + 2 * w * s * t * b + t * t * c) / d;
    const slope = (n1 - value * d1) / d;
    const bend = (n2 - 2 * slope * d1 - value * d2) / d;
    out[at] = value;
    out[at + 2] = slope;
    out[at + 4] = bend;
    out[at + 6] = (-3 * bend * d1 - 3 * slope * d2) / d;
  };
  return (t, out) => {
    coordinate(t, x0, x1, x2, out, 0);
    coordinate(t, y0, y1, y2, out, 1);
  };
}
