/** Signed distances of 1,000,000 points, as given, to a blade of 200,796 triangles, against three-mesh-bvh. */
import { BufferAttribute, BufferGeometry, Vector3 } from 'three';
import { CENTER, MeshBVH, SAH } from 'three-mesh-bvh';
import { createNodeChunkPool } from '../../src/cli/node-chunk-pool.ts';
import { closestTriangles, emptyClosest } from '../../src/spatial/closest-triangle.ts';
import { mortonOrder } from '../../src/spatial/morton-order.ts';
import { buildTriangleTree } from '../../src/spatial/triangle-tree.ts';
import { onSharedMemory } from '../../src/worker/chunk-memory.ts';
import { type BladeMesh, bladeMesh, nearPoints } from './blade-mesh.ts';
import { interleave, type Spread, table } from './rounds.ts';

const COUNT = 1_000_000;
/** Points of the trial that picks the peer's best setting. */
const TRIAL = 50_000;

interface Peer {
  name: string;
  build: number;
  query(count: number): void;
}

function peerOf(mesh: BladeMesh, points: Float64Array, distances: Float64Array): Peer {
  const settings = [
    { name: 'CENTER, leaf 10', strategy: CENTER, targetLeafSize: 10 },
    { name: 'CENTER, leaf 4', strategy: CENTER, targetLeafSize: 4 },
    { name: 'SAH, leaf 10', strategy: SAH, targetLeafSize: 10 },
    { name: 'SAH, leaf 4', strategy: SAH, targetLeafSize: 4 },
  ];
  const point = new Vector3();
  const target = { point: new Vector3(), distance: 0, faceIndex: -1 };
  const peers = settings.map(({ name, ...options }) => {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(new Float32Array(mesh.positions), 3));
    geometry.setIndex(new BufferAttribute(mesh.triangles.slice(), 1));
    const start = performance.now();
    const tree = new MeshBVH(geometry, options);
    const build = performance.now() - start;
    const query = (count: number) => {
      for (let i = 0; i < count; i++) {
        point.set(points[3 * i], points[3 * i + 1], points[3 * i + 2]);
        tree.closestPointToPoint(point, target);
        distances[i] = target.distance;
      }
    };
    return { name, build, query };
  });
  peers[0].query(TRIAL);
  const trials = peers.map((peer) => {
    const start = performance.now();
    peer.query(TRIAL);
    return performance.now() - start;
  });
  return peers[trials.indexOf(Math.min(...trials))];
}

/** Largest difference between the sizes of two lists of distances (mm). */
function worstGap(a: Float64Array, b: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < a.length; i++) worst = Math.max(worst, Math.abs(Math.abs(a[i]) - b[i]));
  return worst;
}

export interface Promised {
  text: string;
  ratio: number;
  least: number;
}

/** Prints the table and returns the ratios with what is promised. */
export async function benchDistance(rounds: number): Promise<Promised[]> {
  const mesh = bladeMesh(400, 250);
  const points = onSharedMemory(nearPoints(COUNT, 1));
  const theirs = new Float64Array(COUNT);
  const peer = peerOf(mesh, points, theirs);

  const builds = await interleave({ build: () => void buildTriangleTree(mesh.positions, mesh.triangles) }, 5);
  const tree = buildTriangleTree(mesh.positions, mesh.triangles, { shared: true });
  const one = emptyClosest(COUNT);
  const two = emptyClosest(COUNT, true, true);
  const pool = createNodeChunkPool(2);
  const target = { tree };
  const onThreads = (order: Uint32Array) =>
    pool.run({ kernel: 'closest-triangles', shared: target, points, order, out: two, step: 'distances' });
  const onOne = (order: Uint32Array) => closestTriangles(tree, points, order, 0, COUNT, one);
  const sorted = onSharedMemory(mortonOrder(points));
  onOne(sorted);
  await onThreads(sorted);
  const times = await interleave(
    {
      peer: () => peer.query(COUNT),
      one: () => onOne(mortonOrder(points)),
      two: () => onThreads(mortonOrder(points)),
      oneSorted: () => onOne(sorted),
      twoSorted: () => onThreads(sorted),
    },
    rounds,
  );
  pool.close();

  const row = (name: string, t: Spread) => [
    name,
    t.median.toFixed(0),
    `${t.least.toFixed(0)}-${t.greatest.toFixed(0)}`,
    (times.peer.median / t.median).toFixed(2),
    (times.one.median / t.median).toFixed(2),
  ];
  console.log(
    `Distances of ${COUNT} points in random order to ${mesh.triangles.length / 3} triangles, ${rounds} rounds`,
  );
  console.log(
    table([
      ['', 'median ms', 'range ms', 'peer / this', 'one / this'],
      row(`three-mesh-bvh (${peer.name}), unsigned`, times.peer),
      row('own, one thread, signed, with sort', times.one),
      row('own, two threads, signed, with sort', times.two),
      row('own, one thread, signed, order known', times.oneSorted),
      row('own, two threads, signed, order known', times.twoSorted),
    ]),
  );
  console.log(
    `build: three-mesh-bvh ${peer.build.toFixed(0)} ms, own with pseudo-normals ${builds.build.median.toFixed(0)} ms`,
  );
  console.log(`largest difference of unsigned distances ${worstGap(one.distance, theirs).toExponential(1)} mm`);
  console.log(
    `one and two threads: ${one.distance.every((d, i) => d === two.distance[i]) ? 'same bits' : 'DIFFERENT'}`,
  );
  return [
    { text: 'against three-mesh-bvh, one thread', ratio: times.peer.median / times.one.median, least: 8 },
    {
      text: 'two threads against one, order known',
      ratio: times.oneSorted.median / times.twoSorted.median,
      least: 1.7,
    },
  ];
}
