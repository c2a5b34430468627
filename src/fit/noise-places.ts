import type { Outline } from '../model/outline.ts';
import { evaluatePiece, outlinePieces } from './outline-pieces.ts';
import type { SplineFunction } from './spline-functions.ts';

/** A place at which uncertainties are tabulated. */
export interface NoisePlace {
  t: number;
  /** Outward displacement of the outline there, the slope of it by arc length, and the change of curvature. */
  functions: [position: SplineFunction, direction: SplineFunction, curvature: SplineFunction];
}

/** Returns two places a span in order, and the end of a span whose end is a repeated knot. */
export function tablePlaces(outline: Outline): NoisePlace[] {
  const pieces = outlinePieces(outline);
  const { breaks } = pieces;
  const repeated = new Set(outline.knots.filter((knot, i) => i > 0 && knot === outline.knots[i - 1]));
  const out = new Float64Array(8);
  const places: NoisePlace[] = [];
  const add = (span: number, h: number, left: boolean) => {
    evaluatePiece(pieces, span, h, out);
    places.push(noisePlace(breaks[span] + h, out, left));
  };
  for (let span = 0; span < breaks.length - 1; span++) {
    const length = breaks[span + 1] - breaks[span];
    add(span, 0, false);
    add(span, 0.5 * length, false);
    if (repeated.has(breaks[span + 1])) add(span, length, true);
  }
  return places;
}

/**
 * The functions at a place: with h the displacement along the outward normal n they are h, h′ and −h″ − curvature² h by arc
 * length, expressed by the displacement of the spline at the same parameter, which also slides along the outline.
 * @param d position and three derivatives by the parameter
 */
function noisePlace(t: number, d: Float64Array, left: boolean): NoisePlace {
  const speed = Math.hypot(d[2], d[3]);
  const [tx, ty] = [d[2] / speed, d[3] / speed];
  const [nx, ny] = [ty, -tx];
  const growth = (tx * d[4] + ty * d[5]) / speed;
  const bend = -(nx * d[4] + ny * d[5]) / speed ** 2;
  const bendSlope = -(nx * d[6] + ny * d[7]) / speed ** 3 - (3 * bend * growth) / speed;
  const across = 1 / speed ** 2;
  const along = (2 * bend) / speed;
  const sway = growth / speed ** 2;
  const bent = [
    -bendSlope * tx,
    -bendSlope * ty,
    -along * tx + sway * nx,
    -along * ty + sway * ny,
    -across * nx,
    -across * ny,
  ];
  return {
    t,
    functions: [
      { t, left, vectors: [nx, ny, 0, 0, 0, 0] },
      { t, left, vectors: [bend * tx, bend * ty, nx / speed, ny / speed, 0, 0] },
      { t, left, vectors: bent },
    ],
  };
}
