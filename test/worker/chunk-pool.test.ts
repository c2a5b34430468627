import { build, type Rolldown } from 'vite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createNodeChunkPool } from '../../src/cli/node-chunk-pool.ts';
import { type ClosestTriangles, closestTriangles, emptyClosest } from '../../src/spatial/closest-triangle.ts';
import { mortonOrder } from '../../src/spatial/morton-order.ts';
import { buildTriangleTree } from '../../src/spatial/triangle-tree.ts';
import type { ChunkPool } from '../../src/worker/chunk-pool.ts';
import { dentedBall, scatter } from '../support/small-meshes.ts';

const COUNT = 70_001;
const ball = dentedBall(24, 1);
const tree = buildTriangleTree(ball.positions, ball.triangles);
const points = scatter(COUNT, 2, 1.2);
const order = mortonOrder(points);
const plain = emptyClosest(COUNT);
closestTriangles(tree, points, null, 0, COUNT, plain, 0.5);

let program: URL;
const pools: ChunkPool[] = [];

beforeAll(async () => {
  const built = (await build({
    configFile: false,
    logLevel: 'silent',
    build: { ssr: 'src/cli/relate-worker.ts', write: false, target: 'node20' },
  })) as Rolldown.RolldownOutput;
  program = new URL(`data:text/javascript,${encodeURIComponent(built.output[0].code)}`);
});

afterAll(() => {
  for (const pool of pools) pool.close();
});

function poolOf(count: number, shareMemory: boolean): ChunkPool {
  const pool = createNodeChunkPool(count, { program, shareMemory });
  pools.push(pool);
  return pool;
}

/** Compares bytes; a deep comparison of numbers one by one is slow. */
function expectSame(got: ClosestTriangles): void {
  for (const key of ['triangle', 'distance', 'point'] as const) {
    const bytes = (array: Int32Array | Float64Array) =>
      Buffer.from(array.buffer as ArrayBuffer, array.byteOffset, array.byteLength);
    expect(bytes(got[key]).equals(bytes(plain[key]))).toBe(true);
  }
}

const shared = { tree, maxDistance: 0.5 };

async function run(pool: ChunkPool, withOrder = true, context = {}): Promise<ClosestTriangles> {
  const out = emptyClosest(COUNT);
  await pool.run(
    { kernel: 'closest-triangles', shared, points, order: withOrder ? order : null, out, step: 'distances' },
    context,
  );
  return out;
}

describe.each([
  ['shared memory', true],
  ['copies', false],
])('with %s', (_, shareMemory) => {
  test.each([0, 1, 2, 3])('%d threads give the bits of a plain call', async (count) => {
    const pool = poolOf(count, shareMemory);
    expectSame(await run(pool));
    expectSame(await run(pool, false));
  });

  test('progress rises to the number of points', async () => {
    const seen: number[] = [];
    const pool = poolOf(2, shareMemory);
    await run(pool, true, {
      onProgress: (p: { step: string; done: number; total: number }) => {
        expect(p.total).toBe(COUNT);
        expect(p.step).toBe('distances');
        seen.push(p.done);
      },
    });
    expect(seen.at(-1)).toBe(COUNT);
    expect([...seen].sort((a, b) => a - b)).toEqual(seen);
  });

  test('a cancel stops the job and leaves the pool usable', async () => {
    const pool = poolOf(2, shareMemory);
    const stop = new AbortController();
    const job = run(pool, true, { signal: stop.signal, onProgress: () => stop.abort() });
    await expect(job).rejects.toMatchObject({ code: 'cancelled' });
    await expect(run(pool, true, { signal: stop.signal })).rejects.toMatchObject({ code: 'cancelled' });
    expectSame(await run(pool));
  });

  test('jobs asked for at once run one after the other', async () => {
    const pool = poolOf(2, shareMemory);
    const both = await Promise.all([run(pool), run(pool, false)]);
    both.forEach(expectSame);
  });

  test('a failing kernel is reported', async () => {
    const pool = poolOf(2, shareMemory);
    const out = emptyClosest(COUNT);
    const broken = { tree: null as unknown as typeof tree };
    const job = pool.run({ kernel: 'closest-triangles', shared: broken, points, order, out, step: 'distances' });
    await expect(job).rejects.toMatchObject({ code: 'fault/worker' });
    expectSame(await run(pool));
  });
});

test('results already on shared memory are filled in place', async () => {
  const out = emptyClosest(COUNT);
  out.distance = new Float64Array(new SharedArrayBuffer(8 * COUNT));
  await poolOf(2, true).run({ kernel: 'closest-triangles', shared, points, order, out, step: 'distances' });
  expectSame(out);
});
