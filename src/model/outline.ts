/**
 * Closed planar B-spline curve, counter-clockwise seen from the tip (+Z). Periodic: `n` control points and `n` knots
 * over one period; knot `i + n` is knot `i` plus the period, control point `i + n` is control point `i`. Basis function
 * `i` (degree p) lives on knots `i … i+p+1`; on the span starting at knot `k` the active ones are `k−p … k`. A corner
 * is a knot repeated `degree` times.
 */
export interface Outline {
  degree: number;
  /** Parameter length of one turn (mm; close to the perimeter). */
  period: number;
  /** Non-decreasing, within [knots[0], knots[0] + period). */
  knots: Float64Array;
  controlX: Float64Array;
  controlY: Float64Array;
  /** Parameters of the corners, rising; empty for a smooth outline. */
  corners: Float64Array;
}

/** How sure the fitted outline is of its own place. */
export interface OutlineNoise {
  /** Standard deviation of one point along the outline's normal (mm). */
  sigma: number;
  /** Correlation of one point's error with the next one's along the outline, 0 where none was found. */
  correlation: number;
  /** Points used. */
  points: number;
  /** Parameters at which the uncertainties are tabulated, rising over one period; one twice where they jump. */
  at: Float64Array;
  /** Standard uncertainty (k = 1) of the outline's position along its normal at `at` (mm). */
  u: Float64Array;
  /** The same of its direction (rad) and of its curvature (1/mm). */
  direction: Float64Array;
  curvature: Float64Array;
  /** The covariance behind them; absent where the outline passes through its points. */
  posterior?: OutlinePosterior;
}

/** Posterior covariance of a fitted outline: spread² (normal equations)⁻¹, and what the doubt of joints adds. */
export interface OutlinePosterior {
  /**
   * Cholesky factor of the normal equations in the layout of a cyclic matrix; unknowns: the outline's control points, x0,
   * y0, …, or the coefficients of the displacement given in `along`.
   */
  factor: { size: number; band: number; border: number; bands: Float64Array; rows: Float64Array };
  /** Standard deviation of a point (mm), widened for what neighbours' errors have in common. */
  spread: number;
  /** Outward displacement (mm) by one standard uncertainty of each joint, tabulated like the uncertainties. */
  joints: Float64Array[];
  /** Where the displacement is a cubic spline of another parameter: its knots, period, and its rising values at `at`. */
  along?: { knots: Float64Array; period: number; places: Float64Array };
}

/**
 * Circle or conic through the points of an edge, over the arc that it explains within their noise. With `along` counted
 * inward from the nose: across² = 2 · radius · along − e · along²; e = 1 is a circle, e = (b / a)² an ellipse.
 */
export interface EdgeShape {
  kind: 'circle' | 'conic';
  noseX: number;
  noseY: number;
  /** Outward unit direction of its axis; of a circle the outline's normal at the nose. */
  outX: number;
  outY: number;
  radius: number;
  e: number;
  /** Parameters at which the arc begins and ends, and the angles of its normals there from the axis (rad). */
  from: number;
  to: number;
  angleFrom: number;
  angleTo: number;
  /** Parameters at which the outline leaves the shape: where a jump of curvature was found, else the ends of the arc. */
  joints: [number, number];
  /** Standard uncertainty (mm) of either joint's place; 0 where no jump was found. */
  jointsU: [number, number];
  /** Points it stands on, and their root mean square distance (mm). */
  count: number;
  rms: number;
  /** Covariance (mm, rad) of nose along and across the inward axis, turn of the axis, radius and e, row-major 5 × 5. */
  covariance: Float64Array;
}

/** An outline fitted to points, with the evidence of the fit. */
export interface FittedOutline {
  outline: Outline;
  noise: OutlineNoise;
  /** Root mean square distance of the points from the outline (mm). */
  rms: number;
  /** Largest distance (mm). */
  max: number;
  /** The points the outline was fitted to, x0, y0, x1, … (mm), in order along the outline. */
  points: Float64Array;
  /** Parameter of each point's foot. */
  parameters: Float64Array;
  /** Final weight of each point, 0 … 1 (1 = fully trusted). */
  weights: Float64Array;
  /** Parameter intervals [from, to) without data; `to` may exceed the period. */
  gaps: [number, number][];
  /** Indices of points the robust weights set aside. */
  setAside: number[];
  converged: boolean;
  iterations: number;
  /** Shapes of the edges that have one, their arcs in the outline's parameter. */
  shapes: EdgeShape[];
  /** What it was fitted as: the nominal moved by a smooth deviation, or freely (also when absent). */
  basis?: 'nominal' | 'free';
}

/** The two edges and two sides of a section outline, found once and used by every characteristic. */
export interface SectionEdges {
  /** Parameter of the leading and trailing edge points (nose of the edge, or middle of a flat end). */
  leading: number;
  trailing: number;
  /** Running counter-clockwise from the leading edge the outline first passes the … side. */
  firstSide: 'suction' | 'pressure';
}
