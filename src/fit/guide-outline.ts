import type { Outline } from '../model/outline.ts';
import { chordParameters, interpolateOutline } from './interpolate-outline.ts';
import { arcLengths } from './knots-outline.ts';
import { type Bends, nodeBends, nodeCurvature } from './node-bends.ts';
import { outlineArc } from './outline-arc.ts';
import { sampleOutline } from './outline-evaluate.ts';
import { type PointBlocks, pointBlocks } from './point-blocks.ts';

/** A first outline, and its curvature by arc length from its first knot without what noise may have made of it. */
export interface GuideOutline {
  outline: Outline;
  bends: Bends;
  /** Parameter near each point's foot; null when not known. */
  starts: Float64Array | null;
}

/** Below this share of the mean point spacing, noise does not disturb the chord lengths: every point is a node. */
const NOISE_FREE = 1e-3;
/** Places of a given guide, in noise widths apart, that its bends are taken from. */
const PLACE_STEP = 8;
/** Share of the length by which a guide may be longer than the polygon through its places. */
const ROUGH = 0.002;

/**
 * Returns a first outline through the means of short blocks of points: free of most noise, a few noise widths off at
 * the edges; good for parameters and knots.
 * @param points x0, y0, x1, … (mm), counter-clockwise
 * @param corners indices of the corner points, rising
 * @param sigma standard deviation of a point along the normal (mm)
 */
export function guideOutline(points: Float64Array, corners: readonly number[], sigma: number): GuideOutline {
  const count = points.length >> 1;
  const exact = sigma * count < NOISE_FREE * chordParameters(points).period;
  const blocks = exact ? everyPoint(points, corners) : pointBlocks(points, corners, sigma);
  const { nodes, sizes, lengths } = blocks;
  const outline = interpolateOutline(nodes, { corners: blocks.corners });
  const arc = outlineArc(outline);
  const perimeter = arc.length[arc.length.length - 1];
  const parameters = chordParameters(nodes).at;
  const at = arcLengths(arc, parameters);
  const noise = sizes.map((size) => sigma / Math.sqrt(size));
  const curvature = nodeCurvature(nodes, at, noise, perimeter, blocks.corners);
  const starts = new Float64Array(count);
  blocks.firsts.forEach((first, k) => {
    const end = blocks.firsts[(k + 1) % blocks.firsts.length];
    for (let i = first; i !== end; i = (i + 1) % count) starts[i] = parameters[k];
  });
  return { outline, bends: nodeBends(curvature, at, lengths, perimeter), starts };
}

function everyPoint(nodes: Float64Array, corners: readonly number[]): PointBlocks {
  const count = nodes.length >> 1;
  const ones = new Float64Array(count).fill(1);
  return { nodes, sizes: ones, lengths: ones, corners: [...corners], firsts: Float64Array.from(ones.keys()) };
}

/**
 * Returns a given outline as a guide, bends within noise of straight taken for roughness; null when it is too rough: its
 * length is more than that of the polygon through places eight noise widths apart.
 */
export function givenGuide(outline: Outline, sigma: number): GuideOutline | null {
  const arc = outlineArc(outline);
  const perimeter = arc.length[arc.length.length - 1];
  const corners = new Set(outline.corners);
  const picked: number[] = [];
  const nodeCorners: number[] = [];
  for (let i = 0; i + 1 < arc.at.length; i++) {
    const corner = corners.has(arc.at[i]);
    const apart = picked.length === 0 ? perimeter : arc.length[i] - arc.length[picked[picked.length - 1]];
    if (!corner && apart < PLACE_STEP * sigma) continue;
    if (corner) nodeCorners.push(picked.length);
    picked.push(i);
  }
  const at = Float64Array.from(picked, (i) => arc.length[i]);
  const nodes = sampleOutline(
    outline,
    Float64Array.from(picked, (i) => arc.at[i]),
  );
  if (perimeter > (1 + ROUGH) * chordParameters(nodes).period) return null;
  const noise = new Float64Array(picked.length).fill(sigma);
  const curvature = nodeCurvature(nodes, at, noise, perimeter, nodeCorners);
  return { outline, bends: nodeBends(curvature, at, noise, perimeter), starts: null };
}
