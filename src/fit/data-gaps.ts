import type { Outline } from '../model/outline.ts';
import { curvatureAt } from './outline-evaluate.ts';

/** Gap limits: share of the perimeter (about 1 % of chord), turn of the normal (rad), multiple of the spacing nearby. */
const OF_PERIMETER = 0.005;
const OF_TURN = (15 * Math.PI) / 180;
const OF_SPACING = 15;
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
    if (!standsOut(spacing, i, -1) || !standsOut(spacing, i, 1)) continue;
    let bend = 0;
    for (const part of [0.25, 0.5, 0.75]) {
      bend = Math.max(bend, Math.abs(curvatureAt(outline, sorted[i] + part * spacing[i])));
    }
    const limit = Math.min(OF_PERIMETER * outline.period, OF_TURN / Math.max(bend, 1e-12));
    if (spacing[i] > limit) gaps.push([sorted[i], sorted[i] + spacing[i]]);
  }
  return gaps;
}

/** True when most of the steps just before (−1) or after (+1) step `i` are shorter than a fifteenth of it. */
function standsOut(spacing: Float64Array, i: number, way: -1 | 1): boolean {
  const count = spacing.length;
  let shorter = 0;
  for (let j = 1; j <= NEIGHBOURS; j++) {
    if (OF_SPACING * spacing[(i + way * j + NEIGHBOURS * count) % count] < spacing[i]) shorter++;
  }
  return 2 * shorter > NEIGHBOURS;
}
