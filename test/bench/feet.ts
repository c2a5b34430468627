/** Exact feet on the smooth nominal beside the facet kernel, for the same 1,000,000 points. */
import { makeScan } from '../../samples/scan.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { createNodeChunkPool } from '../../src/cli/node-chunk-pool.ts';
import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { closestTriangles, emptyClosest } from '../../src/spatial/closest-triangle.ts';
import { mortonOrder } from '../../src/spatial/morton-order.ts';
import { emptyFeet, nominalFeet } from '../../src/spatial/nominal-feet.ts';
import { makeNominalTarget } from '../../src/spatial/nominal-target.ts';
import { onSharedMemory } from '../../src/worker/chunk-memory.ts';
import { threadedFeet } from '../../src/worker/threaded-feet.ts';
import { interleave, table } from './rounds.ts';

const COUNT = 1_000_000;

/** Prints the time of exact feet over that of facet distances. */
export async function benchFeet(rounds: number): Promise<void> {
  const { surface } = nominalFromTable(exactSections(evenHeights(21), 400), {});
  const target = makeNominalTarget(surface, true);
  const points = onSharedMemory(makeScan({ points: COUNT, seed: 2, noise: 0.05 }).cloud.positions);
  const order = onSharedMemory(mortonOrder(points));
  const facets = emptyClosest(COUNT);
  const feet = emptyFeet(COUNT, true);
  const pool = createNodeChunkPool(2);
  const find = threadedFeet(pool);
  nominalFeet(target, points, order, 0, COUNT, feet);
  const times = await interleave(
    {
      facets: () => closestTriangles(target.tree, points, order, 0, COUNT, facets),
      one: () => nominalFeet(target, points, order, 0, COUNT, feet),
      two: () => find(target, points, order, feet, Number.POSITIVE_INFINITY, {}),
    },
    rounds,
  );
  pool.close();
  const row = (name: string, key: string) => [
    name,
    times[key].median.toFixed(0),
    `${times[key].least.toFixed(0)}-${times[key].greatest.toFixed(0)}`,
    (times[key].median / times.facets.median).toFixed(2),
  ];
  console.log(`\nFeet of ${COUNT} points, order known, ${target.mesh.triangles.length / 3} guiding triangles`);
  console.log(
    table([
      ['', 'median ms', 'range ms', 'time / facets'],
      row('facet distances, one thread', 'facets'),
      row('exact feet on the smooth nominal, one thread', 'one'),
      row('exact feet on the smooth nominal, two threads', 'two'),
    ]),
  );
}
