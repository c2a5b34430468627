import type { Outline } from '../model/outline.ts';
import { curvatureAt } from './outline-evaluate.ts';

/** Gap limits: share of the perimeter (about 1 % of chord), share of the local radius, multiple of the spacing nearby. */
const OF_PERIMETER = 0.005;
const OF_RADIUS = 0.2;
const OF_SPACING = 3;
const NEIGHBOURS = 10;

/**
 * Returns the parameter intervals [from, to) without points: longer than three times the median spacing nearby and
 * than the least of 1 % of chord and 0.2 of the local radius.
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
    const middle = sorted[i] + 0.5 * spacing[i];
    const radius = 1 / Math.max(Math.abs(curvatureAt(outline, middle)), 1e-12);
    const limit = Math.min(OF_PERIMETER * outline.period, OF_RADIUS * radius);
    if (spacing[i] <= limit || spacing[i] <= OF_SPACING * medianNearby(spacing, i)) continue;
    gaps.push([sorted[i], sorted[i] + spacing[i]]);
  }
  return gaps;
}

function medianNearby(spacing: Float64Array, i: number): number {
  const count = spacing.length;
  const near = new Float64Array(2 * NEIGHBOURS);
  for (let j = 0; j < NEIGHBOURS; j++) {
    near[2 * j] = spacing[(i + 1 + j) % count];
    near[2 * j + 1] = spacing[(i - 1 - j + 2 * count) % count];
  }
  near.sort();
  return 0.5 * (near[NEIGHBOURS - 1] + near[NEIGHBOURS]);
}
