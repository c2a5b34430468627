import type { Outline, OutlineNoise } from '../model/outline.ts';
import type { MovedOutline } from './deviation-outline.ts';
import { valueVariances } from './deviation-spline.ts';
import type { DeviationFit } from './fit-deviation.ts';
import { inflation } from './noise-correlation.ts';
import { arcLengthAt } from './outline-arc.ts';
import { wrapParameter } from './outline-evaluate.ts';

/**
 * Returns the standard uncertainty of a moved nominal along its normal, of its direction and of its curvature (those of
 * the deviation's slope and second derivative): posterior covariance of the deviation, sigma² (B'WB + smoothing)⁻¹
 * (Wahba, JRSS B 45, 1983); correlated residuals widen it by the loss of independent points.
 */
export function deviationNoise(nominal: Outline, fit: DeviationFit, moved: MovedOutline): OutlineNoise {
  const { arc, closed, factor, inverse, sigma, correlation } = fit;
  const spread = sigma * Math.sqrt(inflation(correlation));
  const nodes = moved.from.length - 1;
  const [u, direction, curvature] = [0, 1, 2].map(() => new Float64Array(nodes));
  const places = new Float64Array(nodes);
  const variances = new Float64Array(3);
  for (let i = 0; i < nodes; i++) {
    const s = arcLengthAt(arc, wrapParameter(nominal, moved.from[i]));
    const own = s - closed.period * Math.floor((s - closed.knots[0]) / closed.period);
    places[i] = i > 0 && own < places[i - 1] ? own + closed.period : own;
    valueVariances(closed, inverse, own, variances);
    u[i] = spread * Math.sqrt(variances[0]);
    direction[i] = spread * Math.sqrt(variances[1]);
    curvature[i] = spread * Math.sqrt(variances[2]);
  }
  const along = { knots: closed.knots, period: closed.period, places };
  return {
    sigma,
    correlation,
    points: fit.at.length,
    at: moved.to.slice(0, nodes),
    u,
    direction,
    curvature,
    posterior: { factor, spread, joints: [], along },
  };
}
