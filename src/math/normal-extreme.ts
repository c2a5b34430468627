/** Mean and standard deviation of the largest of 1, 2, 4, … independent standard normal variables (Harter, Biometrika 48, 1961). */
const MEAN = [0, 0.56419, 1.02938, 1.4236, 1.76599, 2.06967, 2.34373, 2.5946];
const SPREAD = [1, 0.82565, 0.70122, 0.61065, 0.54315, 0.49155, 0.45109, 0.41862];

/**
 * Returns mean and standard deviation of the largest of `count` independent standard normal variables, the count at most
 * 128 and not necessarily whole; between powers of two linear in its logarithm.
 */
export function largestOfNormals(count: number): { mean: number; sd: number } {
  const at = Math.min(MEAN.length - 1, Math.log2(Math.max(1, count)));
  const k = Math.min(MEAN.length - 2, Math.floor(at));
  const part = at - k;
  return {
    mean: MEAN[k] + part * (MEAN[k + 1] - MEAN[k]),
    sd: SPREAD[k] + part * (SPREAD[k + 1] - SPREAD[k]),
  };
}
