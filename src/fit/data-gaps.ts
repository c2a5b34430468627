import { medianInPlace } from '../math/median.ts';
import type { Outline } from '../model/outline.ts';
import { curvatureAt } from './outline-evaluate.ts';

/** Gap limits: share of the perimeter (about 1 % of chord), turn of the normal (rad), multiple of the spacing nearby. */
const OF_PERIMETER = 0.005;
const OF_TURN = (15 * Math.PI) / 180;
const OF_SPACING = 15;
/** Steps below this share of the perimeter are never looked at. */
const LEAST_SHARE = 1e-5;
const NEIGHBOURS = 10;

/**
 * Returns the parameter intervals [from, to) without points: longer than the least of 1 % of chord and 15 degrees of
 * normal direction, and than chance leaves between random points, 15 median spacings of the sparser side.
 * @param parameters parameters of the points' feet, any order
 */
export function dataGaps(outline: Outline, parameters: Float64Array): [number, number][] {
  const sorted = parameters.slice().sort();
  const count = sorted.length;
  const spacing = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    spacing[i] = (i + 1 < count ? sorted[i + 1] : sorted[0] + outline.period) - sorted[i];
  }
  const gaps: [number, number][] = [];
  for (let i = 0; i < count; i++) {
    if (spacing[i] <= LEAST_SHARE * outline.period) continue;
    const chance = OF_SPACING * Math.max(medianBeside(spacing, i, -1), medianBeside(spacing, i, 1));
    if (spacing[i] <= chance) continue;
    let bend = 0;
    for (const part of [0.25, 0.5, 0.75]) {
      bend = Math.max(bend, Math.abs(curvatureAt(outline, sorted[i] + part * spacing[i])));
    }
    const limit = Math.min(OF_PERIMETER * outline.period, OF_TURN / Math.max(bend, 1e-12));
    if (spacing[i] > limit) gaps.push([sorted[i], sorted[i] + spacing[i]]);
  }
  return gaps;
}

/** Median of the steps just before (−1) or after (+1) step `i`. */
function medianBeside(spacing: Float64Array, i: number, way: -1 | 1): number {
  const count = spacing.length;
  const near = Float64Array.from({ length: NEIGHBOURS }, (_, j) => spacing[(i + way * (j + 1) + count) % count]);
  return medianInPlace(near);
}
