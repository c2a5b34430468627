import { expect, test } from 'vitest';
import { closestTriangles, emptyClosest } from '../../src/spatial/closest-triangle.ts';
import { mortonOrder } from '../../src/spatial/morton-order.ts';
import { buildTriangleTree } from '../../src/spatial/triangle-tree.ts';
import { createBrowserChunkPool } from '../../src/worker/browser-chunk-pool.ts';
import { dentedBall, scatter } from '../support/small-meshes.ts';

const COUNT = 60_000;

test.each([true, false])(
  'two module workers give the bits of a plain call (shared memory: %s)',
  async (shareMemory) => {
    expect(crossOriginIsolated).toBe(true);
    const ball = dentedBall(24, 1);
    const tree = buildTriangleTree(ball.positions, ball.triangles);
    const points = scatter(COUNT, 2, 1.2);
    const plain = emptyClosest(COUNT);
    closestTriangles(tree, points, null, 0, COUNT, plain);
    const pool = createBrowserChunkPool(2, { shareMemory });
    const out = emptyClosest(COUNT);
    await pool.run({
      kernel: 'closest-triangles',
      shared: { tree },
      points,
      order: mortonOrder(points),
      out,
      step: 'distances',
    });
    pool.close();
    expect(out.distance.every((d, i) => d === plain.distance[i])).toBe(true);
    expect(out.triangle.every((t, i) => t === plain.triangle[i])).toBe(true);
    expect(out.point.every((v, i) => v === plain.point[i])).toBe(true);
  },
);
