import { MAD_TO_SIGMA, medianInPlace } from '../math/median.ts';

export type Robust = 'tukey' | 'huber' | 'none';

/** Huber's limit, and where Tukey's biweight begins and ends, in standard deviations found from the median distance. */
const HUBER_AT = 1.5;
const TUKEY_FROM = 4;
const TUKEY_TO = 8;
/** Residuals looked at for the scale. */
const SCALE_SAMPLE = 40_000;

/** Returns the standard deviation of normal residuals with the same median distance from `centre`. */
export function robustScale(residuals: Float64Array, used: Uint8Array, centre: number): number {
  const stride = Math.max(1, Math.ceil(residuals.length / SCALE_SAMPLE));
  const sample = new Float64Array(Math.ceil(residuals.length / stride));
  let count = 0;
  for (let i = 0; i < residuals.length; i += stride) if (used[i]) sample[count++] = Math.abs(residuals[i] - centre);
  return count > 0 ? MAD_TO_SIGMA * medianInPlace(sample, count) : 0;
}

/**
 * Weight 0 … 1 of a residual (Huber 1964; Beaton & Tukey 1974). Tukey's weight has a flat top here, so that form
 * deviations of the usual size are fitted by plain least squares and outliers alone lose their say.
 */
export function robustWeight(kind: Robust, residual: number, scale: number): number {
  const r = Math.abs(residual) / scale;
  if (kind === 'tukey') {
    if (r <= TUKEY_FROM) return 1;
    return r < TUKEY_TO ? (1 - ((r - TUKEY_FROM) / (TUKEY_TO - TUKEY_FROM)) ** 2) ** 2 : 0;
  }
  return kind === 'none' || r <= HUBER_AT ? 1 : HUBER_AT / r;
}
