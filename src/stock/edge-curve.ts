import type { AdaptForm } from '../model/plan.ts';

/** Where an edge curve meets a flank. Lengths in mm, angles in rad; curvature is positive where the outline is convex. */
export interface EdgeJunction {
  x: number;
  y: number;
  /** Unit tangent of the flank, towards the edge. */
  tangentX: number;
  tangentY: number;
  /** Curvature of the flank (1/mm). */
  curvature: number;
  /** Distance from the nose line. */
  setback: number;
  /** Standard uncertainties of the place along its normal (mm), of the direction (rad) and of the curvature (1/mm). */
  u: { position: number; angle: number; curvature: number };
}

/** The line an edge may not pass: a point on it and the unit normal towards the material. */
export interface NoseLine {
  x: number;
  y: number;
  inX: number;
  inY: number;
}

/**
 * Writes [x, y, x', y', x'', y'', x''', y'''] at `t` (0 at the suction junction, 1 at the pressure junction; derivatives
 * by t), like the numbers of an outline.
 */
export type EdgeEvaluate = (t: number, out: Float64Array) => void;

/** Forms that are one conic. */
export type ConicForm = Exclude<AdaptForm, 'nominal'>;

/** A finished edge between two flanks, from the suction junction over the nose to the pressure junction (mm). */
export interface EdgeCurve {
  form: AdaptForm | 'smooth';
  /** Depth over half width of its conic at the nose; null where it is no ellipse. */
  ratio: number | null;
  /** Dense points x0, y0, x1, … with their places in t and curvatures (1/mm, positive convex). */
  points: Float64Array;
  at: Float64Array;
  curvature: Float64Array;
  /** Unit tangents of the curve in its own direction at the suction and pressure junction. */
  tangentsIn: [number, number];
  tangentsOut: [number, number];
  /** The point where the tangent is parallel to the nose line, its parameter, and the radius there. */
  nose: { x: number; y: number; t: number };
  noseRadius: number;
  /** 1 where the curve turns to its left (counter-clockwise), −1 where it turns to its right. */
  turn: 1 | -1;
  /** Suction and pressure junction. */
  junctions: [EdgeJunction, EdgeJunction];
  line: NoseLine;
  evaluate: EdgeEvaluate;
}

/** A junction that is known exactly, such as on a closed form. */
export const EXACT = { position: 0, angle: 0, curvature: 0 } as const;

const TABLE = 512;
/** Share of the points spread by length; the others are spread by the turn of the normal. */
const BY_LENGTH = 0.3;

/** Returns the distance of a point from the nose line (mm), positive inside. */
export function distanceInside(line: NoseLine, x: number, y: number): number {
  return (x - line.x) * line.inX + (y - line.y) * line.inY;
}

/** Returns the signed curvature (1/mm, positive to the left) from the numbers of `EdgeEvaluate`. */
export function signedCurvature(out: Float64Array): number {
  return (out[2] * out[5] - out[3] * out[4]) / Math.hypot(out[2], out[3]) ** 3;
}

/** Returns the derivative of the signed curvature by arc length (1/mm²) from the numbers of `EdgeEvaluate`. */
export function curvatureRate(out: Float64Array): number {
  const speed = Math.hypot(out[2], out[3]);
  const rate = (out[2] * out[7] - out[3] * out[6]) / speed ** 3;
  const stretch = (out[2] * out[4] + out[3] * out[5]) / (speed * speed);
  return (rate - 3 * signedCurvature(out) * stretch) / speed;
}

/**
 * Returns `count` parameters from 0 to 1, close where the curve turns: most of them at even steps of the normal's angle,
 * the rest at even lengths.
 */
function placesByAngle(evaluate: EdgeEvaluate, count: number): Float64Array {
  const out = new Float64Array(8);
  const length = new Float64Array(TABLE + 1);
  const angle = new Float64Array(TABLE + 1);
  for (let i = 0; i < TABLE; i++) {
    evaluate((i + 0.5) / TABLE, out);
    const step = Math.hypot(out[2], out[3]) / TABLE;
    length[i + 1] = length[i] + step;
    angle[i + 1] = angle[i] + Math.abs(signedCurvature(out)) * step;
  }
  const turned = angle[TABLE] > 0 ? angle[TABLE] : 1;
  const places = new Float64Array(count);
  let k = 0;
  const share = (i: number) => (BY_LENGTH * length[i]) / length[TABLE] + ((1 - BY_LENGTH) * angle[i]) / turned;
  for (let j = 0; j < count; j++) {
    const wanted = (j / (count - 1)) * share(TABLE);
    while (k < TABLE - 1 && share(k + 1) < wanted) k++;
    const low = share(k);
    places[j] = (k + Math.min(1, Math.max(0, (wanted - low) / (share(k + 1) - low)))) / TABLE;
  }
  places[count - 1] = 1;
  return places;
}

/** What makes an edge curve apart from what is sampled from it. */
export type EdgeParts = Pick<EdgeCurve, 'form' | 'ratio' | 'junctions' | 'line' | 'evaluate'>;

/**
 * Returns an edge curve with its points, tangents, curvatures and nose.
 * @param noseAt parameter of the nose
 * @param count number of points
 */
export function edgeCurve(parts: EdgeParts, noseAt: number, count = 201): EdgeCurve {
  const { evaluate } = parts;
  const out = new Float64Array(8);
  const unit = (): [number, number] => {
    const speed = Math.hypot(out[2], out[3]);
    return [out[2] / speed, out[3] / speed];
  };
  evaluate(noseAt, out);
  const turn = signedCurvature(out) >= 0 ? 1 : -1;
  const nose = { x: out[0], y: out[1], t: noseAt };
  const noseRadius = 1 / Math.abs(signedCurvature(out));
  const at = placesByAngle(evaluate, count);
  const points = new Float64Array(2 * count);
  const curvature = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    evaluate(at[i], out);
    points.set(out.subarray(0, 2), 2 * i);
    curvature[i] = turn * signedCurvature(out);
  }
  evaluate(0, out);
  const tangentsIn = unit();
  evaluate(1, out);
  return { ...parts, points, at, curvature, tangentsIn, tangentsOut: unit(), nose, noseRadius, turn };
}
