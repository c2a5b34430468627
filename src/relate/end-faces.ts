import { medianInPlace } from '../math/median.ts';
import type { Pose } from '../model/pose.ts';
import { POINT_BEYOND_GATE, POINT_OUTSIDE_SPAN, POINT_USED, type Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';

/** Where a measured aerofoil ends, by stretches of the outline (mm, blade frame); NaN where a stretch holds no points. */
export interface MeasuredEnds {
  low: Float64Array;
  high: Float64Array;
  /** Height of every measured point. */
  z: Float64Array;
  /** Stretch of every measured point. */
  stretch: Uint16Array;
}

/** Stretches of the outline, and points of each that may be strays. */
const STRETCHES = 64;
const STRAYS = 3;
/** Points nearer to an end than this may be of its face; those as far again tell where the flank is (mm). */
const BAND = 0.6;
/** Points this far inside the flank are of the end's face (mm). */
const INSIDE = 0.06;

/**
 * Returns where the measured part ends along the span, the highest and lowest points of each stretch with single strays
 * left out.
 * @param points measured, x0, y0, z0, … (mm), related in `pose`
 */
export function measuredEnds(
  surface: NominalSurface,
  relation: Relation,
  points: Float64Array,
  pose: Pose,
): MeasuredEnds {
  const { columns } = surface;
  const [first, last] = [columns[0], columns[columns.length - 1]];
  const [, , , , , , a, b, c] = pose.rotation;
  const z = new Float64Array(relation.count);
  const stretch = new Uint16Array(relation.count);
  const count = new Uint32Array(STRETCHES);
  for (let i = 0; i < relation.count; i++) {
    z[i] = a * points[3 * i] + b * points[3 * i + 1] + c * points[3 * i + 2] + pose.translation[2];
    stretch[i] = Math.min(STRETCHES - 1, Math.floor((STRETCHES * (relation.u[i] - first)) / (last - first)));
    if (relation.flag[i] !== POINT_BEYOND_GATE) count[stretch[i]]++;
  }
  const held = Array.from(count, (n) => new Float64Array(n));
  count.fill(0);
  for (let i = 0; i < relation.count; i++)
    if (relation.flag[i] !== POINT_BEYOND_GATE) held[stretch[i]][count[stretch[i]]++] = z[i];
  for (const heights of held) heights.sort();
  const end = (heights: Float64Array, high: boolean): number =>
    heights.length <= STRAYS ? Number.NaN : heights[high ? heights.length - 1 - STRAYS : STRAYS];
  return {
    low: Float64Array.from(held, (heights) => end(heights, false)),
    high: Float64Array.from(held, (heights) => end(heights, true)),
    z,
    stretch,
  };
}

/**
 * Flags the points of the faces in which a measured part ends inside the nominal's span: near an end, and farther inside
 * than the flank just before it. They lie between the flanks and would read as missing material.
 */
export function leaveOutEndFaces(relation: Relation, ends: MeasuredEnds, surface: NominalSurface): void {
  const { heights } = surface;
  const [low, high] = [heights[0], heights[heights.length - 1]];
  const before: number[][][] = [0, 1].map(() => Array.from({ length: STRETCHES }, () => []));
  const distance = (i: number, end: number): number =>
    end === 0 ? ends.z[i] - ends.low[ends.stretch[i]] : ends.high[ends.stretch[i]] - ends.z[i];
  const isInside = (s: number, end: number): boolean =>
    end === 0 ? ends.low[s] > low - BAND : ends.high[s] < high + BAND;
  for (let i = 0; i < relation.count; i++) {
    if (relation.flag[i] !== POINT_USED) continue;
    for (const end of [0, 1]) {
      const d = distance(i, end);
      if (d > BAND && d < 2 * BAND) before[end][ends.stretch[i]].push(relation.deviation[i]);
    }
  }
  const flank = before.map((lists) =>
    lists.map((list) => (list.length === 0 ? Number.NaN : medianInPlace(Float64Array.from(list), list.length))),
  );
  for (let i = 0; i < relation.count; i++) {
    if (relation.flag[i] !== POINT_USED) continue;
    const s = ends.stretch[i];
    for (const end of [0, 1])
      if (isInside(s, end) && distance(i, end) <= BAND && relation.deviation[i] < flank[end][s] - INSIDE)
        relation.flag[i] = POINT_OUTSIDE_SPAN;
  }
}

/**
 * Returns how far the nominal's ends may move along the span before they leave the measured part (mm): `down` and `up`
 * for a motion of the part, the least over the stretches; negative where an end sticks out by that much already.
 */
export function roomAlongSpan(ends: MeasuredEnds, surface: NominalSurface): { down: number; up: number } {
  const { heights } = surface;
  const least = (values: Float64Array): number =>
    values.reduce((a, b) => (Number.isNaN(b) ? a : Math.min(a, b)), Number.POSITIVE_INFINITY);
  return {
    down: least(ends.high.map((z) => z - heights[heights.length - 1])),
    up: least(ends.low.map((z) => heights[0] - z)),
  };
}
