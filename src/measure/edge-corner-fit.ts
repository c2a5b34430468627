import { fitCircle } from '../math/circle-fit.ts';
import { fitNoseConic } from '../math/ellipse-fit.ts';
import { contourAt, contourPoint } from './contour.ts';
import { arcPoints, placeSigma, pointRms } from './edge-arc.ts';
import type { CornerPeak } from './edge-peaks.ts';
import type { SectionContext } from './section-context.ts';

/** Radius of curvature of a corner from its points. */
export interface CornerFit {
  radius: number;
  /** Standard uncertainty (mm). */
  u: number;
  rms: number;
  points: number;
}

/** Range of the squared ratio of half axes that a conic may have, all alike before the points are seen. */
const RATIOS = 2;
const place = contourPoint();

/**
 * Returns the radius at the middle of a corner of a measured outline: that of the circle through the points of its upper
 * half and of the conic with its axis along the corner's normal, averaged by likelihood. Null when there is no circle.
 */
export function cornerFit(context: SectionContext, peak: CornerPeak): CornerFit | null {
  const { section, noise } = context;
  if (!noise || !section.fitted) return null;
  const nose = 0.5 * (peak.from + peak.to);
  const points = arcPoints(section.outline, section.fitted, { from: peak.from, nose, to: peak.to });
  const circle = fitCircle(points.x, points.y, points.weights);
  if (!circle?.converged) return null;
  const sigma = placeSigma(points, noise.sigma);
  contourAt(section.outline, nose, place);
  const conic = fitNoseConic(points.x, points.y, points.weights, -place.ty, place.tx);
  const gain = conic?.converged ? (points.x.length * (circle.rms ** 2 - conic.rms ** 2)) / (sigma * sigma) : null;
  const share = conic && gain !== null ? conicShare(gain, sigma * Math.sqrt(conic.covariance[15])) : 0;
  const other = conic && share > 0 ? conic : { radius: circle.radius, rms: circle.rms, covariance: null };
  const apart = other.radius - circle.radius;
  const own = sigma * sigma * circle.covariance[8];
  const others = other.covariance ? sigma * sigma * other.covariance[10] : own;
  return {
    radius: circle.radius + share * apart,
    u: Math.sqrt((1 - share) * own + share * others + share * (1 - share) * apart * apart),
    rms: pointRms(points, share > 0.5 ? other.rms : circle.rms),
    points: points.count,
  };
}

/**
 * Probability of a conic against a circle, both as likely beforehand: fall of the squares, in variances, against the share
 * of all ratios that the points leave open (Laplace's approximation of the Bayes factor; MacKay, Neural Comp. 4, 1992).
 */
function conicShare(gain: number, uRatio: number): number {
  const open = Math.min(1, (Math.sqrt(2 * Math.PI) * uRatio) / RATIOS);
  return 1 / (1 + Math.exp(-0.5 * gain) / open);
}
