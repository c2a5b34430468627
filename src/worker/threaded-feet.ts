import type { FeetFinder } from '../spatial/find-feet.ts';
import type { FeetTarget } from './chunk-kernels.ts';
import type { ChunkPool } from './chunk-pool.ts';

/** Returns the finder of feet that shares the points out among the threads of a pool. */
export function threadedFeet(pool: ChunkPool): FeetFinder {
  let shared: FeetTarget | null = null;
  return (target, points, order, feet, maxDistance, context) => {
    if (shared === null || shared.target !== target || shared.maxDistance !== maxDistance)
      shared = { target, maxDistance };
    return pool.run({ kernel: 'nominal-feet', shared, points, order, out: feet, step: 'relate' }, context);
  };
}
