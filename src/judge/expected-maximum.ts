/** Complementary error function, relative error below 1.2e-7 (Chebyshev fit, Press et al., Numerical Recipes). */
export function erfc(x: number): number {
  const z = Math.abs(x);
  const t = 1 / (1 + 0.5 * z);
  const series = [
    -1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398, 1.48851587, -0.82215223,
    0.17087277,
  ];
  let sum = 0;
  for (let i = series.length - 1; i >= 0; i--) sum = sum * t + series[i];
  const value = t * Math.exp(-z * z + sum);
  return x >= 0 ? value : 2 - value;
}

const STEPS = 256;
/** Half width of the integration in standard deviations; the tails beyond weigh less than 1e-15. */
const REACH = 8;

/**
 * Mean of the largest of independent normal variables, E = hi − ∫ F from lo to hi with F the product of their
 * distribution functions, by Simpson's rule.
 * @param mean, sd parallel arrays, any common unit; a standard deviation of 0 is a fixed value
 */
export function expectedMaximum(mean: ArrayLike<number>, sd: ArrayLike<number>): number {
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < mean.length; i++) {
    low = Math.max(low, mean[i] - REACH * sd[i]);
    high = Math.max(high, mean[i] + REACH * sd[i]);
  }
  if (!(high > low)) return high;
  const near: number[] = [];
  for (let i = 0; i < mean.length; i++) if (mean[i] + REACH * sd[i] > low) near.push(i);
  let sum = 0;
  for (let k = 0; k <= STEPS; k++) {
    const x = low + ((high - low) * k) / STEPS;
    let chance = 1;
    for (const i of near) {
      if (sd[i] > 0) chance *= 0.5 * erfc((mean[i] - x) / (sd[i] * Math.SQRT2));
      else if (x < mean[i]) chance = 0;
      if (chance < 1e-18) break;
    }
    sum += chance * (k === 0 || k === STEPS ? 1 : k % 2 ? 4 : 2);
  }
  return high - (sum * (high - low)) / (3 * STEPS);
}
