import type { Outline, OutlineNoise } from '../model/outline.ts';
import type { MovedOutline } from './deviation-outline.ts';
import { valueVariance } from './deviation-spline.ts';
import type { DeviationFit } from './fit-deviation.ts';
import { arcLengthAt } from './outline-arc.ts';
import { wrapParameter } from './outline-evaluate.ts';

/**
 * Returns the standard uncertainty of a moved nominal along its normal: posterior covariance of the deviation, sigma²
 * (B'WB + smoothing)⁻¹ (Wahba, JRSS B 45, 1983); correlated residuals widen it by the loss of independent points.
 */
export function deviationNoise(nominal: Outline, fit: DeviationFit, moved: MovedOutline): OutlineNoise {
  const { arc, closed, inverse, sigma } = fit;
  const lag = Math.min(0.9, fit.correlation);
  const spread = sigma * Math.sqrt((1 + lag) / (1 - lag));
  const nodes = moved.from.length - 1;
  const u = new Float64Array(nodes);
  for (let i = 0; i < nodes; i++) {
    const s = arcLengthAt(arc, wrapParameter(nominal, moved.from[i]));
    const own = s - closed.period * Math.floor((s - closed.knots[0]) / closed.period);
    u[i] = spread * Math.sqrt(valueVariance(closed, inverse, own));
  }
  return { sigma, points: fit.at.length, at: moved.to.slice(0, nodes), u };
}
