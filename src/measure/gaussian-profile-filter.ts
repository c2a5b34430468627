/** Constant of the Gaussian profile filter, √(ln 2 / π): half the amplitude passes at the cut-off (ISO 16610-21). */
export const GAUSS_ALPHA = Math.sqrt(Math.LN2 / Math.PI);
/** The weights end this many cut-off lengths from the middle; what lies beyond weighs below 1e-8. */
const REACH = 1.1;

/** Share of a sine's amplitude that the low-pass filter leaves, exp(−π (α cutOff / wavelength)²). */
export function gaussianTransmission(cutOff: number, wavelength: number): number {
  return Math.exp(-Math.PI * ((GAUSS_ALPHA * cutOff) / wavelength) ** 2);
}

/** Returns the filtered profile; NaN where it has no value. */
export type ProfileFilter = (values: Float64Array) => Float64Array;

/**
 * Returns the low-pass of open profiles: Gaussian weights exp(−π (x / (α cutOff))²), and where a profile ends or has holes
 * the weights of the local straight line (retention of the moments of order 0 and 1, in the manner of ISO 16610-28).
 * Straight lines pass unchanged, right up to the ends. Profiles hold equally spaced values, NaN where there is none.
 * @param count number of values
 * @param step spacing, in the unit of the cut-off
 */
export function gaussianLowPass(count: number, step: number, cutOff: number): ProfileFilter {
  const reach = Math.min(count - 1, Math.floor((REACH * cutOff) / step));
  const weight = new Float64Array(reach + 1);
  for (let k = 0; k <= reach; k++) weight[k] = Math.exp(-Math.PI * ((k * step) / (GAUSS_ALPHA * cutOff)) ** 2);
  const sums = momentSums(weight);
  return (values) => {
    const result = new Float64Array(count);
    const whole = isComplete(values);
    for (let i = 0; i < count; i++) {
      const before = Math.min(reach, i);
      const after = Math.min(reach, count - 1 - i);
      if (Number.isNaN(values[i])) result[i] = Number.NaN;
      else if (!whole) result[i] = acrossHoles(values, i, before, after, weight);
      else if (before === after) result[i] = evenSum(values, i, before, weight) / (1 + 2 * sums[0][before]);
      else result[i] = atEnd(values, i, before, after, weight, sums);
    }
    return result;
  };
}

function isComplete(values: Float64Array): boolean {
  for (let i = 0; i < values.length; i++) if (Number.isNaN(values[i])) return false;
  return true;
}

/** Weighted sum of a value and as many neighbours to either side; in two chains, as each waits for its last sum. */
function evenSum(values: Float64Array, i: number, both: number, weight: Float64Array): number {
  let odd = values[i];
  let even = 0;
  let k = 1;
  for (; k < both; k += 2) {
    odd += weight[k] * (values[i - k] + values[i + k]);
    even += weight[k + 1] * (values[i - k - 1] + values[i + k + 1]);
  }
  if (k === both) odd += weight[k] * (values[i - k] + values[i + k]);
  return odd + even;
}

/** Running sums of the weights times 1, k and k² for k = 1, 2, … */
function momentSums(weight: Float64Array): Float64Array[] {
  return [0, 1, 2].map((power) => {
    let sum = 0;
    return weight.map((w, k) => {
      sum += k === 0 ? 0 : w * k ** power;
      return sum;
    });
  });
}

/** Local straight line at a place whose neighbours reach farther on one side. */
function atEnd(
  values: Float64Array,
  i: number,
  before: number,
  after: number,
  weight: Float64Array,
  [p0, p1, p2]: Float64Array[],
): number {
  let v0 = values[i];
  let v1 = 0;
  const shared = Math.min(before, after);
  for (let k = 1; k <= shared; k++) {
    v0 += weight[k] * (values[i - k] + values[i + k]);
    v1 += weight[k] * k * (values[i + k] - values[i - k]);
  }
  const way = after > before ? 1 : -1;
  const most = Math.max(before, after);
  for (let k = shared + 1; k <= most; k++) {
    const part = weight[k] * values[i + way * k];
    v0 += part;
    v1 += way * k * part;
  }
  return lineAt(1 + p0[before] + p0[after], p1[after] - p1[before], p2[before] + p2[after], v0, v1);
}

/** Local straight line through the neighbours that have a value. */
function acrossHoles(values: Float64Array, i: number, before: number, after: number, weight: Float64Array): number {
  let [s0, s1, s2, v0, v1] = [0, 0, 0, 0, 0];
  for (let k = -before; k <= after; k++) {
    const value = values[i + k];
    if (Number.isNaN(value)) continue;
    const w = weight[Math.abs(k)];
    s0 += w;
    s1 += w * k;
    s2 += w * k * k;
    v0 += w * value;
    v1 += w * k * value;
  }
  return lineAt(s0, s1, s2, v0, v1);
}

/** Value at 0 of the weighted straight line with these moments. */
function lineAt(s0: number, s1: number, s2: number, v0: number, v1: number): number {
  const spread = s0 * s2 - s1 * s1;
  return spread > 1e-12 * s0 * s0 ? (s2 * v0 - s1 * v1) / spread : v0 / s0;
}

/**
 * Returns the filter that leaves the waves of profiles between two cut-offs: low-pass at the short one, less its own
 * low-pass at the long one. A sine keeps T(short) (1 − T(long)) of its amplitude, a straight line nothing.
 */
export function gaussianBandPass(count: number, step: number, short: number, long: number): ProfileFilter {
  const [smoothing, forming] = [gaussianLowPass(count, step, short), gaussianLowPass(count, step, long)];
  return (values) => {
    const waves = smoothing(values);
    const form = forming(waves);
    for (let i = 0; i < count; i++) waves[i] -= form[i];
    return waves;
  };
}
