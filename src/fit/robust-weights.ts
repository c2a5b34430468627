import { MAD_TO_SIGMA, medianInPlace } from '../math/median.ts';

/** Tuning constants for 95 % efficiency under normal noise (Huber 1981; Beaton & Tukey, Technometrics 16, 1974). */
const HUBER = 1.345;
const TUKEY = 4.685;
/** This many neighbours off to the same side are shape, not stray points. */
const RUN = 3;

/** Returns 1.4826 times the median absolute value: a standard deviation that stray values do not move. */
export function medianScale(values: Float64Array): number {
  if (values.length === 0) return 0;
  const sizes = new Float64Array(values.length);
  for (let i = 0; i < sizes.length; i++) sizes[i] = Math.abs(values[i]);
  return MAD_TO_SIGMA * medianInPlace(sizes);
}

/**
 * Writes robust weights for the residuals of points in order round an outline. Huber's weights first; Tukey's, which
 * reach zero, once the fit stands. Three or more neighbours far off to the same side are a real defect or a bend: they
 * keep full weight. Of zero weights at most the share `cap` is allowed: the nearest of the others get Huber's weight.
 * @param scale standard deviation of the noise
 */
export function robustWeights(
  residuals: Float64Array,
  scale: number,
  kind: 'huber' | 'tukey',
  cap: number,
  weights: Float64Array,
): void {
  const count = residuals.length;
  const zero: number[] = [];
  for (let i = 0; i < count; i++) {
    const size = Math.abs(residuals[i]) / scale;
    const plain = size <= HUBER ? 1 : HUBER / size;
    if (kind === 'huber') weights[i] = plain;
    else weights[i] = size < TUKEY ? (1 - (size / TUKEY) ** 2) ** 2 : 0;
    if (size > HUBER && inRun(residuals, i, 0.5 * TUKEY * scale)) weights[i] = 1;
    if (weights[i] === 0) zero.push(i);
  }
  const allowed = Math.floor(cap * count);
  if (zero.length <= allowed) return;
  zero.sort((a, b) => Math.abs(residuals[a]) - Math.abs(residuals[b]) || a - b);
  for (let z = 0; z < zero.length - allowed; z++) weights[zero[z]] = (HUBER * scale) / Math.abs(residuals[zero[z]]);
}

function inRun(residuals: Float64Array, i: number, limit: number): boolean {
  const count = residuals.length;
  if (Math.abs(residuals[i]) <= limit) return false;
  let length = 1;
  for (const step of [1, -1]) {
    for (let j = 1; j < RUN; j++) {
      const value = residuals[(i + step * j + count) % count];
      if (value * residuals[i] <= 0 || Math.abs(value) <= limit) break;
      length++;
    }
  }
  return length >= RUN;
}
