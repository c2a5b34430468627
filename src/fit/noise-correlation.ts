import { median } from '../math/median.ts';

/** Points a block, and the blocks needed. */
const BLOCK = 40;
const LEAST_BLOCKS = 8;
/** Standard deviations by which the median of the blocks must differ from none. */
const SURE = 3;
/** Largest correlation that is taken in; more is shape, not noise. */
const MOST = 0.9;

/**
 * Returns the correlation of the error of one point with that of the next along the outline (first-order autoregression),
 * 0 where it cannot be told from none. The median over blocks of neighbouring residuals: what is alike in a few places is
 * shape that the fit misses. Corrected for the short blocks (Kendall & Stuart: bias −(1 + 3 r) / n).
 * @param residuals normal residuals (mm) in order round the outline
 * @param weights points of weight 0 break the pairs they stand in
 */
export function noiseCorrelation(residuals: Float64Array, weights: Float64Array): number {
  const blocks = Math.floor(residuals.length / BLOCK);
  if (blocks < LEAST_BLOCKS) return 0;
  const found = Array.from({ length: blocks }, (_, b) => {
    let product = 0;
    let square = 0;
    for (let i = b * BLOCK; i < (b + 1) * BLOCK; i++) {
      square += weights[i] * residuals[i] * residuals[i];
      if (i + 1 < (b + 1) * BLOCK) product += Math.min(weights[i], weights[i + 1]) * residuals[i] * residuals[i + 1];
    }
    return square > 0 ? product / square : 0;
  });
  const middle = median(found);
  const lag = (middle + 1 / BLOCK) / (1 - 3 / BLOCK);
  return lag > (SURE * 1.25) / Math.sqrt(blocks * BLOCK) ? Math.min(MOST, lag) : 0;
}

/** Variance of a mean of many points so correlated, over that of as many independent ones: (1 + r) / (1 − r). */
export function inflation(correlation: number): number {
  return (1 + correlation) / (1 - correlation);
}
