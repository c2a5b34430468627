/** Rigid motion p' = R p + t, measured → nominal. Always a proper rotation. */
export interface Pose {
  /** Row-major 3 × 3 rotation. */
  rotation: Float64Array;
  /** Translation (mm). */
  translation: Float64Array;
}
