import { lowerBound } from '../math/lower-bound.ts';
import { POINT_USED, type Relation } from '../model/relation.ts';
import type { SurfaceSection } from './surface-section.ts';

export interface SlabOptions {
  /** Half thickness of the slab (mm). */
  halfThickness: number;
  /** The slab grows until it holds this many points … */
  points: number;
  /** … but not beyond this half thickness (mm). */
  mostHalfThickness: number;
}

export const SLAB_DEFAULTS: SlabOptions = { halfThickness: 1, points: 2500, mostHalfThickness: 3 };

/** The used points of a relation in order of their height, made once for all sections. */
export interface PointsByHeight {
  order: Uint32Array;
  height: Float64Array;
}

/** Returns the used points sorted by the height of their feet. */
export function pointsByHeight(relation: Relation): PointsByHeight {
  let used = 0;
  const order = new Uint32Array(relation.count);
  for (let i = 0; i < relation.count; i++) if (relation.flag[i] === POINT_USED) order[used++] = i;
  const sorted = order.subarray(0, used);
  sorted.sort((a, b) => relation.height[a] - relation.height[b] || a - b);
  return { order: sorted, height: Float64Array.from(sorted, (i) => relation.height[i]) };
}

/** Returns the indices of the points within the slab about a height, and the half thickness used. */
export function slabPoints(
  sorted: PointsByHeight,
  height: number,
  options: SlabOptions = SLAB_DEFAULTS,
): { pick: Uint32Array; halfThickness: number } {
  let half = options.halfThickness;
  for (;;) {
    const from = lowerBound(sorted.height, height - half);
    const to = lowerBound(sorted.height, height + half);
    if (to - from >= options.points || half >= options.mostHalfThickness) {
      return { pick: sorted.order.subarray(from, to), halfThickness: half };
    }
    half = Math.min(half * 1.3, options.mostHalfThickness);
  }
}

/**
 * Returns the indices of the points in the slab about a section, its thickness counted along the span, and the half
 * thickness used.
 * @param sorted the relation's points by height
 */
export function sectionPoints(
  on: SurfaceSection,
  relation: Relation,
  sorted: PointsByHeight,
  options: SlabOptions = SLAB_DEFAULTS,
): { pick: Uint32Array; halfThickness: number } {
  if (on.cut === null) return slabPoints(sorted, on.height, options);
  const most = Math.max(options.halfThickness, options.mostHalfThickness);
  const near = sorted.order.subarray(
    lowerBound(sorted.height, on.from - most),
    lowerBound(sorted.height, on.to + most),
  );
  const above = Float64Array.from(near, (i) => relation.height[i] - on.heightAt(relation.u[i]));
  const rank = Uint32Array.from(near.keys()).sort((a, b) => above[a] - above[b] || near[a] - near[b]);
  const order = Uint32Array.from(rank, (k) => near[k]);
  return slabPoints({ order, height: Float64Array.from(rank, (k) => above[k]) }, 0, options);
}
