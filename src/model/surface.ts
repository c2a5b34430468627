/**
 * The nominal surface: a smooth surface over (position along the outline `u`, height `z`), whatever its source.
 * `u` is a length (mm, that of the mean section): 0 at the leading edge, negative over the suction side and positive
 * over the pressure side, with the trailing edge at both ends. True lengths at a height are in `along`.
 *
 * Stored as a grid of bicubic Hermite nodes in a frame that turns and moves with the section, so that twist is
 * interpolated as an angle (a straight-line loft would shrink twisted sections). Blade point at (u, z):
 * `R(twist(z)) · q(u, z) + centre(z)`.
 */
export interface NominalSurface {
  /** Rising heights of the section rows (mm). */
  heights: Float64Array;
  /** Non-decreasing positions of the columns; equal neighbours mark a corner. First and last are the trailing edge. */
  columns: Float64Array;
  /**
   * Row-major rows × columns × 8: qx, qy, d/du (2), d/dz (2), d²/dudz (2). Derivatives at a doubled column are those
   * of its own side.
   */
  nodes: Float64Array;
  /** True when the outline has no corner and runs smoothly over the trailing edge from the last column to the first. */
  closedSmoothly: boolean;
  /** True when the trailing edge itself is a corner (sharp or cusped). */
  cornerAtTrailing: boolean;
  /** +1 when rising `u` runs counter-clockwise seen from the tip, −1 otherwise. */
  orientation: 1 | -1;
  /** Section turning angle about +Z at the rows (rad), and its slope (rad/mm). */
  twist: Float64Array;
  twistSlope: Float64Array;
  /** Centre of turning at the rows (mm), and its slope. */
  centreX: Float64Array;
  centreY: Float64Array;
  centreXSlope: Float64Array;
  centreYSlope: Float64Array;
  /** True length from the leading edge at the rows, row-major rows × columns (mm, suction side negative). */
  along: Float64Array;
  /** Section names at the rows. */
  sectionIds: string[];
}

/** A place on the nominal surface. */
export interface SurfacePlace {
  u: number;
  height: number;
}
