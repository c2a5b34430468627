import { normalFrom, seededRandom } from '../math/random.ts';

/** What noise does to a statistic. */
export interface NoiseEffect {
  /** Amount it adds on average: an extreme of noisy values is too large. */
  bias: number;
  /** Standard uncertainty of the statistic less the bias: its scatter, and the bias being known to within itself. */
  u: number;
}

const SEED = 61;
const RUNS = 32;

/**
 * Returns what noise of known size does to a statistic, by adding it to the values anew (parametric bootstrap, Efron and
 * Tibshirani 1993); the same random numbers every time.
 * @param raw the statistic of the values as they are
 * @param again the statistic of the values with fresh noise, drawn from the given source of normal deviates
 */
export function noiseEffect(raw: number, again: (normal: () => number) => number): NoiseEffect {
  const normal = normalFrom(seededRandom(SEED));
  let sum = 0;
  let squares = 0;
  for (let run = 0; run < RUNS; run++) {
    const d = again(normal) - raw;
    sum += d;
    squares += d * d;
  }
  const bias = sum / RUNS;
  const scatter = Math.max(0, squares - RUNS * bias * bias) / (RUNS - 1);
  // Where places tie for the extreme the values already hold part of the bias: it lies anywhere from none to twice.
  return { bias, u: Math.sqrt(scatter + (bias * bias) / 3) };
}
