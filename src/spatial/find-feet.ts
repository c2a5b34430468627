import { breathe, type RunContext } from '../model/context.ts';
import { type Feet, nominalFeet } from './nominal-feet.ts';
import type { NominalTarget } from './nominal-target.ts';

/**
 * Fills `feet` for all points; on one thread or on many, with the same bits. Points are in the nominal's frame (mm);
 * those farther from the nominal than `maxDistance` get kind 2.
 */
export type FeetFinder = (
  target: NominalTarget,
  points: Float64Array,
  order: Uint32Array | null,
  feet: Feet,
  maxDistance: number,
  context: RunContext,
) => Promise<void>;

const BITE = 65_536;

/** The finder that works on the calling thread and lets a cancel in between bites. */
export const findFeetHere: FeetFinder = async (target, points, order, feet, maxDistance, context) => {
  const count = points.length / 3;
  for (let from = 0; from < count; from += BITE) {
    const to = Math.min(count, from + BITE);
    nominalFeet(target, points, order, from, to, feet, maxDistance);
    context.onProgress?.({ step: 'relate', done: to, total: count });
    await breathe(context);
  }
};
