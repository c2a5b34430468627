/** What a measured point is to the nominal aerofoil. */
export const POINT_USED = 0;
/** Foot at the end of the nominal's span: root, platform, fillet, tip face. */
export const POINT_OUTSIDE_SPAN = 1;
/** Farther from the nominal than the gate: fixture, table, strays. */
export const POINT_BEYOND_GATE = 2;
/** Related, but its distance does not fit its neighbours'. Listed, kept in the map's raw extremes. */
export const POINT_OUTLIER = 3;

/** Every measured point related once to the nominal surface; arrays run parallel to the measured points. */
export interface Relation {
  count: number;
  /** Position of the foot along the outline (mm, see NominalSurface). */
  u: Float64Array;
  /** Height of the foot (mm). */
  height: Float64Array;
  /** Signed distance along the nominal's outward normal (mm); positive is material outside nominal. */
  deviation: Float64Array;
  /** One of the POINT_… flags. */
  flag: Uint8Array;
}
