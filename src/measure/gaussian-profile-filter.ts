/** Constant of the Gaussian profile filter, √(ln 2 / π): half the amplitude passes at the cut-off (ISO 16610-21). */
export const GAUSS_ALPHA = Math.sqrt(Math.LN2 / Math.PI);
/** The weights are cut off this many cut-off lengths from the middle; what lies beyond weighs below 1e-9. */
const REACH = 1.25;

/** Share of a sine's amplitude that the low-pass filter leaves, exp(−π (α cutOff / wavelength)²). */
export function gaussianTransmission(cutOff: number, wavelength: number): number {
  return Math.exp(-Math.PI * ((GAUSS_ALPHA * cutOff) / wavelength) ** 2);
}

/**
 * Returns the low-pass part of an open profile: Gaussian weights exp(−π (x / (α cutOff))²), and where the profile ends or
 * has holes the weights of the local straight line (retention of the moments of order 0 and 1, in the manner of
 * ISO 16610-28). Straight lines pass unchanged, right up to the ends.
 * @param values equally spaced values, NaN where there is none
 * @param step spacing, in the unit of the cut-off
 * @returns filtered values, NaN where the profile has none
 */
export function gaussianFilter(values: Float64Array, step: number, cutOff: number): Float64Array {
  const count = values.length;
  const reach = Math.min(count - 1, Math.floor((REACH * cutOff) / step));
  const weight = Float64Array.from({ length: reach + 1 }, (_, k) =>
    Math.exp(-Math.PI * ((k * step) / (GAUSS_ALPHA * cutOff)) ** 2),
  );
  const result = new Float64Array(count).fill(Number.NaN);
  for (let i = 0; i < count; i++) {
    if (Number.isNaN(values[i])) continue;
    let [s0, s1, s2, v0, v1] = [0, 0, 0, 0, 0];
    for (let k = Math.max(-reach, -i); k <= Math.min(reach, count - 1 - i); k++) {
      const value = values[i + k];
      if (Number.isNaN(value)) continue;
      const w = weight[k < 0 ? -k : k];
      s0 += w;
      s1 += w * k;
      s2 += w * k * k;
      v0 += w * value;
      v1 += w * k * value;
    }
    const spread = s0 * s2 - s1 * s1;
    result[i] = spread > 1e-12 * s0 * s0 ? (s2 * v0 - s1 * v1) / spread : v0 / s0;
  }
  return result;
}

/**
 * Returns the waves of a profile between two cut-offs: low-pass at the short one, less its own low-pass at the long one.
 * A sine keeps T(short) (1 − T(long)) of its amplitude, a straight line nothing.
 */
export function gaussianBand(values: Float64Array, step: number, short: number, long: number): Float64Array {
  const smooth = gaussianFilter(values, step, short);
  const form = gaussianFilter(smooth, step, long);
  return smooth.map((value, i) => value - form[i]);
}
