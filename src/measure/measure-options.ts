/** Settings of the section measures. Lengths in mm, angles in degrees. */
export interface MeasureOptions {
  /** Set-backs from both edges for the thickness near them (mm). */
  setbacks: number[];
  /** Fractions of the line of centres for the thickness along it. */
  fractions: number[];
  /** What `fractions` and the place of the greatest thickness count along: the line of centres or the chord CH-FAR. */
  fractionsAlong: 'centres' | 'chord';
  /** Half angle of normal direction of the radius R-LSQ (degrees). */
  edgeHalfAngleDeg: number;
  /** Set-back of fullness and asymmetry (mm). */
  formSetback: number;
  /** Two parallel lines this far apart bound a flat (mm); at least three times the uncertainty is used. */
  flatWidth: number;
  /** Steps of the sweep of inscribed circles. */
  steps: number;
  /** Half the contact separation (degrees) at which the sweep of a measured outline stops. */
  leastHalfAngleDeg: number;
  /** The outline counts as concave when it lies this share of the chord inside the bitangent. */
  leastConcavity: number;
  /** Share of the outline that must have points for its area properties. */
  leastCoverage: number;
  /** Largest relative uncertainty of a semi-axis that is still reported. */
  largestAxisUncertainty: number;
}

export const MEASURE_DEFAULTS: MeasureOptions = {
  setbacks: [1, 2],
  fractions: [0.25, 0.5, 0.75],
  fractionsAlong: 'centres',
  edgeHalfAngleDeg: 60,
  formSetback: 1,
  flatWidth: 0.005,
  steps: 80,
  leastHalfAngleDeg: 30,
  leastConcavity: 0.001,
  leastCoverage: 0.97,
  largestAxisUncertainty: 0.25,
};
