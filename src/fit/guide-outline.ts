import type { Outline } from '../model/outline.ts';
import { interpolateOutline } from './interpolate-outline.ts';

/** No block of points is longer than this share of the perimeter. */
const LONGEST_BLOCK = 1 / 48;
/** Points nearer to one another than this many noise widths give no direction: a block is at least so long. */
const SHORTEST_BLOCK = 12;
/** Below this share of the mean point spacing, noise does not disturb the chord lengths: every point is a node. */
const NOISE_FREE = 1e-3;

/**
 * Returns a first outline through the means of short blocks of points: free of most noise, a few noise widths off at
 * the edges; good for parameters and knots. A block grows while it and its two neighbours stay straight within noise.
 * @param points x0, y0, x1, … (mm), counter-clockwise
 * @param corners indices of the corner points, rising
 * @param sigma standard deviation of a point along the normal (mm)
 */
export function guideOutline(points: Float64Array, corners: readonly number[], sigma: number): Outline {
  const count = points.length >> 1;
  const perimeter = polygonLength(points);
  if (sigma * count < NOISE_FREE * perimeter) return interpolateOutline(points, { corners });
  const stray = strayPoints(points, corners, sigma);
  const nodes: number[] = [];
  const nodeCorners: number[] = [];
  const starts = corners.length > 0 ? corners : [middlePoint(points)];
  starts.forEach((start, c) => {
    const end = c + 1 < starts.length ? starts[c + 1] : starts[0] + count;
    let first = start;
    if (corners.length > 0) {
      nodeCorners.push(nodes.length >> 1);
      nodes.push(points[2 * start], points[2 * start + 1]);
      first++;
    }
    while (first < end) {
      const last = blockEnd(points, first, end, sigma, LONGEST_BLOCK * perimeter);
      let used = 0;
      let x = 0;
      let y = 0;
      for (let i = first; i < last; i++) {
        const p = i % count;
        if (stray[p] === 1) continue;
        used++;
        x += points[2 * p];
        y += points[2 * p + 1];
      }
      if (used > 0) nodes.push(x / used, y / used);
      first = last;
    }
  });
  return interpolateOutline(withoutRepeats(nodes, nodeCorners), { corners: nodeCorners });
}

function polygonLength(points: Float64Array): number {
  const count = points.length >> 1;
  let sum = 0;
  for (let i = 0, j = count - 1; i < count; j = i++) {
    sum += Math.hypot(points[2 * i] - points[2 * j], points[2 * i + 1] - points[2 * j + 1]);
  }
  return sum;
}

/** Index of the point nearest to the mean of all: on a flank, and the same whatever point the list starts with. */
function middlePoint(points: Float64Array): number {
  const count = points.length >> 1;
  let x = 0;
  let y = 0;
  for (let i = 0; i < count; i++) {
    x += points[2 * i] / count;
    y += points[2 * i + 1] / count;
  }
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const square = (points[2 * i] - x) ** 2 + (points[2 * i + 1] - y) ** 2;
    if (square < least) {
      least = square;
      best = i;
    }
  }
  return best;
}

/** Grows a block from `first`; returns the index after its last point. */
function blockEnd(points: Float64Array, first: number, end: number, sigma: number, longest: number): number {
  const count = points.length >> 1;
  const base = (first + count - 1) % count;
  const ox = points[2 * base];
  const oy = points[2 * base + 1];
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  let m = 1;
  for (let i = first; i <= end; i++) {
    const p = i % count;
    const x = points[2 * p] - ox;
    const y = points[2 * p + 1] - oy;
    m++;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
    if (i - first < 2 || Math.hypot(x, y) < SHORTEST_BLOCK * sigma) continue;
    const a = sxx - (sx * sx) / m;
    const b = sxy - (sx * sy) / m;
    const c = syy - (sy * sy) / m;
    const across = 0.5 * (a + c - Math.hypot(a - c, 2 * b));
    const free = m - 2;
    const limit = sigma * sigma * (free + 3 * Math.sqrt(2 * free));
    if (across > limit || Math.hypot(x, y) > longest) return i - 1;
  }
  return end;
}

/** Marks single points that lie off their neighbours by more than eight noise widths, the neighbours' own misfit opposed. */
function strayPoints(points: Float64Array, corners: readonly number[], sigma: number): Uint8Array {
  const count = points.length >> 1;
  const off = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const a = (i + count - 1) % count;
    const b = (i + 1) % count;
    const cx = points[2 * b] - points[2 * a];
    const cy = points[2 * b + 1] - points[2 * a + 1];
    const dx = points[2 * i] - points[2 * a];
    const dy = points[2 * i + 1] - points[2 * a + 1];
    off[i] = (dy * cx - dx * cy) / (Math.hypot(cx, cy) || 1);
  }
  const stray = new Uint8Array(count);
  for (let i = 0; i < count; i++) {
    const a = off[(i + count - 1) % count];
    const b = off[(i + 1) % count];
    if (Math.abs(off[i]) > 8 * sigma && a * off[i] < 0 && b * off[i] < 0) stray[i] = 1;
  }
  for (const corner of corners) stray[corner] = 0;
  return stray;
}

/** Drops a node that falls on the one before it; corner indices are kept in step. */
function withoutRepeats(nodes: number[], corners: number[]): Float64Array {
  const kept: number[] = [];
  const size = nodes.length;
  for (let i = 0; i < size; i += 2) {
    const last = kept.length;
    const corner = corners.indexOf(i >> 1);
    const repeats = last > 0 && nodes[i] === kept[last - 2] && nodes[i + 1] === kept[last - 1];
    if (repeats && corner < 0) continue;
    if (repeats) kept.length -= 2;
    if (corner >= 0) corners[corner] = kept.length >> 1;
    kept.push(nodes[i], nodes[i + 1]);
  }
  if (kept[0] === kept[kept.length - 2] && kept[1] === kept[kept.length - 1]) kept.length -= 2;
  return Float64Array.from(kept);
}
