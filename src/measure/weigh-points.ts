import { chainedFeet } from '../fit/outline-feet-chain.ts';
import { outlineFoot } from '../fit/outline-foot.ts';
import type { Outline } from '../model/outline.ts';
import { contourAt, contourOf, contourPoint } from './contour.ts';
import { risingOrder } from './sorted-feet.ts';

/** Points with the arc length each stands for. */
export interface WeightedPoints {
  points: Float64Array;
  weights: Float64Array;
  /** Measured points behind each; more than one for a mean. */
  counts: Float64Array;
  /** Root mean square of the measured points about the means (mm). */
  within: number;
  /** Feet on the outline as it lies, where known. */
  feet?: Float64Array;
  /** True for measured points, false for places of an outline. */
  independent: boolean;
}

/** Points to either side that tell the spacing of measured points. */
const NEIGHBOURS = 8;
/** More points than this are averaged … */
const MANY = 3000;
/** … down to about this many means. */
const MEANS = 1200;
/** Every so manieth point is looked up globally to tell how far points lie from the outline. */
const SAMPLE = 64;
const place = contourPoint();

/**
 * Weighs points by the mean arc length to their neighbours along an outline. Many points are averaged over short runs,
 * as deviations from the outline at their mean foot; no run reaches across a corner.
 */
export function weighPoints(outline: Outline, points: Float64Array): WeightedPoints {
  const n = points.length >> 1;
  const along = feetOf(outline, points);
  const order = risingOrder(along);
  const weights = new Float64Array(n);
  const reach = Math.min(NEIGHBOURS, (n - 1) >> 1);
  const cap = (4 * contourOf(outline).perimeter) / n;
  const deviation = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const i = order[k];
    const before = along[order[(k - reach + n) % n]] - (k < reach ? outline.period : 0);
    const after = along[order[(k + reach) % n]] + (k + reach >= n ? outline.period : 0);
    contourAt(outline, along[i], place);
    weights[i] = Math.min(cap, reach > 0 ? ((after - before) / (2 * reach)) * place.speed : 1);
    deviation[i] = (points[2 * i] - place.x) * place.ty - (points[2 * i + 1] - place.y) * place.tx;
  }
  if (n <= MANY)
    return { points, weights, counts: new Float64Array(n).fill(1), within: 0, feet: along, independent: true };
  return averaged(outline, points, order, along, weights, deviation);
}

/** Feet of points that mostly follow one another; one that lies farther off than a sample of all is looked up anew. */
function feetOf(outline: Outline, points: Float64Array): Float64Array {
  const n = points.length >> 1;
  let gate = 0;
  for (let i = 0; i < n; i += SAMPLE)
    gate = Math.max(gate, Math.abs(outlineFoot(outline, points[2 * i], points[2 * i + 1]).distance));
  return chainedFeet(outline, points, 1.2 * gate).parameters;
}

function averaged(
  outline: Outline,
  points: Float64Array,
  order: Uint32Array,
  along: Float64Array,
  weights: Float64Array,
  deviation: Float64Array,
): WeightedPoints {
  const n = order.length;
  const run = Math.ceil(n / MEANS);
  const near = 1e-9 * outline.period;
  const { corners } = outline;
  const [outPoints, outWeights, outCounts, outFeet]: number[][] = [[], [], [], []];
  let squares = 0;
  let total = 0;
  for (let from = 0; from < n; ) {
    const start = along[order[from]];
    const atCorner = corners.some((corner) => Math.abs(corner - start) <= near);
    const next = corners.find((corner) => corner > start) ?? Number.POSITIVE_INFINITY;
    let to = from + 1;
    while (!atCorner && to < n && to - from < run && along[order[to]] < next - near) to++;
    let [w, t, d, dd] = [0, 0, 0, 0];
    for (let k = from; k < to; k++) {
      const i = order[k];
      w += weights[i];
      t += weights[i] * along[i];
      d += weights[i] * deviation[i];
      dd += weights[i] * deviation[i] * deviation[i];
    }
    if (to === from + 1) outPoints.push(points[2 * order[from]], points[2 * order[from] + 1]);
    else {
      contourAt(outline, t / w, place);
      outPoints.push(place.x + (d / w) * place.ty, place.y - (d / w) * place.tx);
      squares += dd - (d * d) / w;
    }
    total += w;
    outFeet.push(t / w);
    outWeights.push(w);
    outCounts.push(to - from);
    from = to;
  }
  return {
    points: Float64Array.from(outPoints),
    weights: Float64Array.from(outWeights),
    counts: Float64Array.from(outCounts),
    within: Math.sqrt(Math.max(0, squares / total)),
    feet: Float64Array.from(outFeet),
    independent: true,
  };
}
