/**
 * B-spline curves and surfaces in space as they are exchanged. A knot vector holds every knot as often as it counts:
 * poles + degree + 1 values; the domain runs from knot `degree` to the last but `degree`. Lengths in mm.
 */

export interface BsplineCurve {
  degree: number;
  /** Non-decreasing. */
  knots: Float64Array;
  /** x0, y0, z0, x1, … */
  poles: Float64Array;
  /** One a pole, positive; absent when all are 1. */
  weights?: Float64Array;
}

export interface BsplineSurface {
  degreeU: number;
  degreeV: number;
  knotsU: Float64Array;
  knotsV: Float64Array;
  countU: number;
  countV: number;
  /** Rows of constant v, countU poles each: the pole of (i along u, j along v) at 3 (j countU + i). */
  poles: Float64Array;
  /** One a pole in the same order, positive; absent when all are 1. */
  weights?: Float64Array;
}

/** Curves and surfaces of a file with their names ('' for none). */
export interface BsplineSet {
  surfaces: { name: string; surface: BsplineSurface }[];
  curves: { name: string; curve: BsplineCurve }[];
}
