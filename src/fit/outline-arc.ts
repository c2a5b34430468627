import type { Outline } from '../model/outline.ts';
import { evaluatePiece, outlinePieces, spanAt } from './outline-pieces.ts';

/** Curvature and arc length of an outline at closely set places, for choosing knots and for changing the parameter. */
export interface OutlineArc {
  /** Parameters over one period, the end included. */
  at: Float64Array;
  /** Arc length from the first (mm). */
  length: Float64Array;
  /** Speed |dC/dt| at the places. */
  speed: Float64Array;
  /** Absolute curvature (1/mm); inside the span after each place. */
  curvature: Float64Array;
}

const PER_SPAN = 4;

/** Returns arc length by Simpson's rule (cubic Hermite between the places) and curvature. */
export function outlineArc(outline: Outline): OutlineArc {
  const pieces = outlinePieces(outline);
  const { breaks } = pieces;
  const spans = breaks.length - 1;
  const count = spans * PER_SPAN + 1;
  const at = new Float64Array(count);
  const length = new Float64Array(count);
  const speed = new Float64Array(count);
  const curvature = new Float64Array(count);
  const out = new Float64Array(8);
  let sum = 0;
  for (let s = 0; s < spans; s++) {
    const step = (breaks[s + 1] - breaks[s]) / PER_SPAN;
    for (let j = 0; j < PER_SPAN; j++) {
      const i = s * PER_SPAN + j;
      evaluatePiece(pieces, s, (j + 1) * step, out);
      const after = Math.hypot(out[2], out[3]);
      evaluatePiece(pieces, s, j * step, out);
      const here = Math.hypot(out[2], out[3]);
      curvature[i] = Math.abs(out[2] * out[5] - out[3] * out[4]) / Math.max(here ** 3, 1e-300);
      evaluatePiece(pieces, s, (j + 0.5) * step, out);
      at[i] = breaks[s] + j * step;
      length[i] = sum;
      speed[i] = here;
      sum += (step / 6) * (here + 4 * Math.hypot(out[2], out[3]) + after);
    }
  }
  at[count - 1] = breaks[spans];
  length[count - 1] = sum;
  speed[count - 1] = speed[0];
  curvature[count - 1] = curvature[0];
  return { at, length, speed, curvature };
}

/** Returns the arc length (mm) at a parameter within the period; error below 1e-6 of a step. */
export function arcLengthAt(arc: OutlineArc, t: number): number {
  const i = spanAt(arc.at, t);
  const h = arc.at[i + 1] - arc.at[i];
  const f = (t - arc.at[i]) / h;
  const rise = arc.length[i + 1] - arc.length[i];
  const a = arc.speed[i] * h;
  const b = arc.speed[i + 1] * h;
  const smooth = a > 0.5 * rise && b > 0.5 * rise && a < 2 * rise && b < 2 * rise;
  if (!smooth) return arc.length[i] + f * rise;
  return arc.length[i] + f * (a + f * (3 * rise - 2 * a - b + f * (a + b - 2 * rise)));
}

/** Returns the parameter at an arc length (mm) within the perimeter, to a small share of a step. */
export function parameterAtLength(arc: OutlineArc, length: number): number {
  const i = spanAt(arc.length, length);
  const rise = arc.length[i + 1] - arc.length[i];
  return arc.at[i] + (rise > 0 ? (length - arc.length[i]) / rise : 0) * (arc.at[i + 1] - arc.at[i]);
}
