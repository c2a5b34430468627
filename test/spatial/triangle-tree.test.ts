import { expect, test } from 'vitest';
import { closestTriangles, emptyClosest } from '../../src/spatial/closest-triangle.ts';
import { meshEdges } from '../../src/spatial/triangle-edges.ts';
import { buildTriangleTree, type TriangleTree } from '../../src/spatial/triangle-tree.ts';
import { bruteClosest, windingNumber } from '../support/brute-closest.ts';
import { cube, dentedBall, prism, scatter, type TestMesh, triangleSoup } from '../support/small-meshes.ts';

/** Leaves as runs, and every triangle inside every box above it. */
function checkTree(tree: TriangleTree): number[] {
  const met: number[] = [];
  const visit = (link: number, boxes: number[]) => {
    if (link >= 0) {
      visit(tree.links[16 * link + 12], [...boxes, 16 * link]);
      visit(tree.links[16 * link + 13], [...boxes, 16 * link + 6]);
      return;
    }
    const leaf = -link - 1;
    for (let k = leaf >> 3; k < (leaf >> 3) + (leaf & 7); k++) {
      met.push(tree.ids[k]);
      for (const at of boxes) {
        for (let c = 0; c < 9; c++) {
          const axis = c % 3;
          const block = 12 * k;
          const v = tree.blocks[block + axis] + (c < 3 ? 0 : tree.blocks[block + c]);
          expect(Math.abs(v - tree.nodes[at + axis])).toBeLessThanOrEqual(tree.nodes[at + axis + 3] * (1 + 1e-15));
        }
      }
    }
  };
  visit(0, []);
  return met.sort((a, b) => a - b);
}

test.each([1, 4, 5, 37, 400])('%d triangles are each in one leaf and inside the boxes above', (count) => {
  const soup = triangleSoup(count, count);
  const tree = buildTriangleTree(soup.positions, soup.triangles);
  expect(checkTree(tree)).toEqual(Array.from({ length: count }, (_, i) => i));
});

test('equal triangles and sizes that double each time keep the tree shallow', () => {
  const same = buildTriangleTree(
    new Float64Array([0, 0, 0, 1, 0, 0, 0, 1, 0]),
    new Uint32Array(3000).map((_, i) => i % 3),
  );
  expect(same.depth).toBeLessThan(12);
  const positions: number[] = [];
  for (let i = 0; i < 120; i++) positions.push(2 ** i, 0, 0, 1.1 * 2 ** i, 0, 0, 2 ** i, 2 ** i, 0);
  const doubling = buildTriangleTree(
    new Float64Array(positions),
    new Uint32Array(360).map((_, i) => i),
  );
  expect(checkTree(doubling)).toHaveLength(120);
  expect(doubling.depth).toBeLessThan(60);
});

test('edges are numbered once, around the hub of a large fan too', () => {
  const n = 200_000;
  const corners = new Uint32Array(3 * n);
  for (let i = 0; i < n; i++) corners.set([0, 1 + i, 1 + ((i + 1) % n)], 3 * i);
  const edges = meshEdges(corners, n + 1);
  expect(edges.count).toBe(2 * n);
  expect(edges.ofTriangle[1]).toBe(edges.ofTriangle[3]);
  expect(edges.ofTriangle[3 * n - 2]).toBe(edges.ofTriangle[0]);
});

test('pseudo-normals of a cube point along its diagonals', () => {
  const { positions, triangles } = cube();
  const tree = buildTriangleTree(positions, triangles);
  for (let v = 0; v < 8; v++) {
    for (let a = 0; a < 3; a++) {
      expect(tree.vertexNormals[3 * v + a]).toBeCloseTo(positions[3 * v + a] > 0 ? Math.PI / 2 : -Math.PI / 2, 14);
    }
  }
  for (let e = 0; e < tree.edgeNormals.length; e += 3) {
    const size = Math.hypot(...tree.edgeNormals.slice(e, e + 3));
    expect(Math.min(Math.abs(size - 2), Math.abs(size - Math.SQRT2))).toBeLessThan(1e-15);
  }
});

test('shared memory holds the same tree', () => {
  const { positions, triangles } = dentedBall(10, 1);
  const shared = buildTriangleTree(positions, triangles, { shared: true });
  expect(shared.nodes.buffer).toBe(shared.links.buffer);
  for (const array of Object.values(shared)) {
    if (ArrayBuffer.isView(array)) expect(array.buffer).toBeInstanceOf(SharedArrayBuffer);
  }
  expect(shared).toEqual(buildTriangleTree(positions, triangles));
});

/** Closed wedge whose sharp edge has a vertex on one side only, closed by a triangle without area. */
function stitchedWedge(): TestMesh {
  const wedge = prism(
    [
      [0, 0],
      [10, -1],
      [10, 1],
    ],
    4,
  );
  // The sharp edge runs from vertex 0 to 3. Halve the triangles there on one side at vertex 6, and stitch.
  const positions = new Float64Array([...wedge.positions, 0, 0, 2]);
  const triangles: number[] = [];
  let halved = false;
  for (let t = 0; t < wedge.triangles.length; t += 3) {
    const corners = [...wedge.triangles.slice(t, t + 3)];
    if (!halved && corners.includes(0) && corners.includes(3)) {
      halved = true;
      while (corners[2] === 0 || corners[2] === 3) corners.push(corners.shift()!);
      const [p, q, r] = corners;
      triangles.push(p, 6, r, 6, q, r, q, 6, p);
    } else triangles.push(...corners);
  }
  return { positions, triangles: new Uint32Array(triangles) };
}

test('the sign holds along a sharp edge stitched by a triangle without area', () => {
  const mesh = stitchedWedge();
  const tree = buildTriangleTree(mesh.positions, mesh.triangles);
  const points = scatter(2000, 3, 1);
  for (let i = 0; i < 2000; i++) points[3 * i + 2] = i % 4 === 0 ? 2 : points[3 * i + 2] + 2;
  const out = emptyClosest(2000);
  closestTriangles(tree, points, null, 0, 2000, out);
  for (let i = 0; i < 2000; i++) {
    const p: [number, number, number] = [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
    expect(out.distance[i] < 0).toBe(windingNumber(mesh.positions, mesh.triangles, p) > 0.5);
    expect(Math.abs(out.distance[i])).toBeCloseTo(bruteClosest(mesh.positions, mesh.triangles, p).distance, 13);
  }
});
