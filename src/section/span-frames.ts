import { heightLaw, lawAt } from './height-law.ts';

/** How sections of a cloud move along the span: centre, turn and size as polynomials of height scaled to −1 … 1. */
export interface SpanFrames {
  middle: number;
  reach: number;
  /** Coefficients, constant term first: centre x and y (mm), turn (rad), log of the spreads along and across. */
  laws: Float64Array[];
}

const BINS = 24;
const POWER = 4;
/** A bin with fewer points than this share of the mean says too little. */
const FEW = 0.3;

/**
 * Returns the frames found from the moments of the points in slices of height: mean, principal axis and spreads. They
 * take out twist, lean and taper, to first order, of points that are moved along the span to a cut.
 * @param positions x0, y0, z0, … (mm), sections across Z
 */
export function spanFrames(positions: Float64Array, low: number, high: number): SpanFrames {
  const sums = new Float64Array(6 * BINS);
  const scale = BINS / (high - low);
  for (let i = 0; i < positions.length; i += 3) {
    const bin = Math.floor((positions[i + 2] - low) * scale);
    if (bin < 0 || bin >= BINS) continue;
    const x = positions[i];
    const y = positions[i + 1];
    const at = 6 * bin;
    sums[at]++;
    sums[at + 1] += x;
    sums[at + 2] += y;
    sums[at + 3] += x * x;
    sums[at + 4] += x * y;
    sums[at + 5] += y * y;
  }
  const mean = sums.reduce((sum, value, i) => (i % 6 === 0 ? sum + value : sum), 0) / BINS;
  const heights: number[] = [];
  const weights: number[] = [];
  const values: number[][] = [[], [], [], [], []];
  let turn = 0;
  for (let bin = 0; bin < BINS; bin++) {
    const [count, sx, sy, sxx, sxy, syy] = sums.subarray(6 * bin, 6 * bin + 6);
    if (count < FEW * mean || count < 6) continue;
    const x = sx / count;
    const y = sy / count;
    const a = sxx / count - x * x;
    const b = sxy / count - x * y;
    const c = syy / count - y * y;
    const root = Math.hypot(a - c, 2 * b);
    const angle = 0.5 * Math.atan2(2 * b, a - c);
    turn = heights.length === 0 ? angle : angle + Math.PI * Math.round((turn - angle) / Math.PI);
    heights.push((2 * (bin + 0.5)) / BINS - 1);
    weights.push(count);
    const along = Math.log(0.5 * (a + c + root));
    const across = Math.log(Math.max(0.5 * (a + c - root), 1e-12 * (a + c)));
    [x, y, turn, 0.5 * along, 0.5 * across].forEach((value, k) => {
      values[k].push(value);
    });
  }
  const power = Math.min(POWER, heights.length - 1);
  const laws = values.map((list) => heightLaw(heights, list, weights, power));
  return { middle: 0.5 * (low + high), reach: 0.5 * (high - low), laws };
}

/** Moves a point to another height with the frames; writes x, y to `out`. */
export function moveAlongSpan(frames: SpanFrames, x: number, y: number, from: number, to: number, out: Float64Array) {
  const [a, b] = [from, to].map((z) => {
    const s = (z - frames.middle) / frames.reach;
    return frames.laws.map((law) => lawAt(law, s));
  });
  const dx = x - a[0];
  const dy = y - a[1];
  const along = (Math.cos(a[2]) * dx + Math.sin(a[2]) * dy) * Math.exp(b[3] - a[3]);
  const across = (Math.cos(a[2]) * dy - Math.sin(a[2]) * dx) * Math.exp(b[4] - a[4]);
  out[0] = b[0] + Math.cos(b[2]) * along - Math.sin(b[2]) * across;
  out[1] = b[1] + Math.sin(b[2]) * along + Math.cos(b[2]) * across;
}

/** Returns the spread of the points along the section at a height (mm). */
export function sizeAlong(frames: SpanFrames, height: number): number {
  return Math.exp(lawAt(frames.laws[3], (height - frames.middle) / frames.reach));
}
