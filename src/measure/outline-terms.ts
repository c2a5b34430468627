import type { DisplacementTerm } from '../fit/outline-posterior.ts';
import type { Outline } from '../model/outline.ts';
import type { Inscribed } from './inscribed-circle.ts';
import type { PositionNoise } from './position-noise.ts';

/** First-order effect on a quantity of the outline's own error: `gain` times the error (mm, outward) at a parameter. */
export type OutlineTerm = DisplacementTerm;

/**
 * Error of a smoothing spline at two places x windows apart: correlation (1 − B x²) exp(−A x²). Its integral is 1, as
 * the window is defined; its bend at 0 is that of the equivalent kernel 1 / (1 + (f / f0)⁴) of a cubic spline (Silverman).
 */
const A = 1.44;
const B = 0.93;
/** Beyond this many windows errors are independent. */
const FAR = 3.2;
/** Step of a slope, in windows. */
const STEP = 0.1;

/**
 * Returns the standard uncertainty of a quantity that depends on the outline through terms, null without noise: by the
 * posterior covariance of the fit; of an interpolated outline by the kernel above.
 */
export function termsUncertainty(
  noise: PositionNoise | null,
  outline: Outline,
  terms: readonly OutlineTerm[],
): number | null {
  if (!noise) return null;
  const whole = noise.sum(terms);
  if (whole !== null) return whole;
  const { period } = outline;
  const scaled = terms.map(({ t, gain }) => gain * noise.at(t));
  const windows = terms.map(({ t }) => noise.window(t));
  let variance = 0;
  for (let i = 0; i < terms.length; i++)
    for (let j = 0; j <= i; j++) {
      const apart = terms[i].t - terms[j].t;
      const x = Math.abs(apart - period * Math.round(apart / period)) / Math.sqrt(windows[i] * windows[j]);
      if (x < FAR) variance += (i === j ? 1 : 2) * scaled[i] * scaled[j] * (1 - B * x * x) * Math.exp(-A * x * x);
    }
  return Math.sqrt(Math.max(0, variance));
}

/** Terms of `gain` times the slope of the outline's error (error over length, counter-clockwise) at a parameter. */
export function slopeTerms(noise: PositionNoise | null, t: number, gain: number): OutlineTerm[] {
  if (!noise) return [];
  const step = STEP * noise.window(t);
  return [
    { t: t + step, gain: gain / (2 * step) },
    { t: t - step, gain: -gain / (2 * step) },
  ];
}

/** Terms of `gain` times the shift of an inscribed circle's centre to the left of the line of centres. */
export function centreTerms(circle: Inscribed, gain: number): OutlineTerm[] {
  const half = gain / (2 * Math.sin(circle.halfAngle));
  return [
    { t: circle.first, gain: -half },
    { t: circle.second, gain: half },
  ];
}

/** Terms of `gain` times the diameter of an inscribed circle at a station. */
export function diameterTerms(circle: Inscribed, gain: number): OutlineTerm[] {
  return [
    { t: circle.first, gain },
    { t: circle.second, gain },
  ];
}
