import type { Outline } from '../model/outline.ts';
import { evaluateOutline } from './outline-evaluate.ts';

/** Least angle (rad) of a corner, inside or outside, whose sides can be told apart. */
const SHARPEST = (50 * Math.PI) / 180;
/** Points to either side of a corner by which the deviation there is judged, and noise widths added to it. */
const NEIGHBOURS = 40;
const NOISE_WIDTHS = 6;

/**
 * Returns 1 for points whose foot tells the side of the nominal they belong to, 0 for those so near a corner that they may
 * belong to either; null where a corner is too sharp for that.
 * @param parameters feet of the points on the nominal
 * @param deviations their signed distances (mm)
 */
export function sidedPoints(
  nominal: Outline,
  parameters: Float64Array,
  deviations: Float64Array,
  sigma: number,
): Uint8Array | null {
  const usable = new Uint8Array(parameters.length).fill(1);
  for (const corner of nominal.corners) {
    const angle = cornerAngle(nominal, corner);
    if (angle < SHARPEST) return null;
    const apart = parameters.map((t) => {
      const off = t - corner;
      return Math.abs(off - nominal.period * Math.round(off / nominal.period));
    });
    const near = Array.from(apart.keys()).sort((a, b) => apart[a] - apart[b]);
    const sizes = near.slice(0, 2 * NEIGHBOURS).map((i) => Math.abs(deviations[i]));
    const middle = sizes.sort((a, b) => a - b)[sizes.length >> 1];
    const margin = (2 * middle + NOISE_WIDTHS * sigma) / Math.tan(0.5 * Math.min(angle, 0.5 * Math.PI));
    for (const i of near) {
      if (apart[i] > margin) break;
      usable[i] = 0;
    }
  }
  return usable;
}

/** Angle (rad) between the sides of a corner, the smaller of inside and outside. */
function cornerAngle(outline: Outline, corner: number): number {
  const after = new Float64Array(8);
  const before = new Float64Array(8);
  evaluateOutline(outline, corner, after);
  evaluateOutline(outline, corner, before, 'before');
  const cross = before[2] * after[3] - before[3] * after[2];
  const dot = before[2] * after[2] + before[3] * after[3];
  return Math.PI - Math.abs(Math.atan2(cross, dot));
}
