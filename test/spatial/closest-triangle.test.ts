import { describe, expect, test } from 'vitest';
import { type ClosestTriangles, closestTriangles, emptyClosest } from '../../src/spatial/closest-triangle.ts';
import { mortonOrder } from '../../src/spatial/morton-order.ts';
import { buildTriangleTree } from '../../src/spatial/triangle-tree.ts';
import { bruteClosest, windingNumber } from '../support/brute-closest.ts';
import { cube, dentedBall, moved, prism, scatter, type TestMesh, triangleSoup } from '../support/small-meshes.ts';

function query(mesh: TestMesh, points: Float64Array, maxDistance?: number): ClosestTriangles {
  const out = emptyClosest(points.length / 3);
  const tree = buildTriangleTree(mesh.positions, mesh.triangles);
  closestTriangles(tree, points, null, 0, points.length / 3, out, maxDistance);
  return out;
}

function at(points: Float64Array, i: number): [number, number, number] {
  return [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
}

/** Compares with trying every triangle; `scale` is the size of the coordinates. */
function expectExact(mesh: TestMesh, points: Float64Array, scale: number): void {
  const out = query(mesh, points);
  for (let i = 0; i < points.length / 3; i++) {
    const want = bruteClosest(mesh.positions, mesh.triangles, at(points, i));
    expect(Math.abs(Math.abs(out.distance[i]) - want.distance)).toBeLessThan(1e-13 * scale);
    const [fx, fy, fz] = at(out.point, i);
    const [x, y, z] = at(points, i);
    expect(Math.abs(Math.hypot(x - fx, y - fy, z - fz) - want.distance)).toBeLessThan(1e-13 * scale);
    const own = mesh.triangles.slice(3 * out.triangle[i], 3 * out.triangle[i] + 3);
    const there = bruteClosest(mesh.positions, own, at(points, i)).distance;
    expect(there - want.distance).toBeLessThan(1e-13 * scale);
  }
}

describe('distance to random meshes equals that of trying every triangle', () => {
  test('loose triangles, near and far', () => {
    const soup = triangleSoup(300, 5);
    expectExact(soup, scatter(150, 6, 1.5), 4);
    expectExact(soup, scatter(30, 7, 500), 1500);
  });
  test('needles', () => {
    const soup = triangleSoup(200, 8);
    for (let t = 0; t < 200; t++) {
      for (let a = 0; a < 3; a++) {
        const p = soup.positions;
        p[9 * t + 6 + a] = p[9 * t + a] + 0.3 * (p[9 * t + 3 + a] - p[9 * t + a]) + 1e-5 * (p[9 * t + 6 + a] - 0.5);
      }
    }
    expectExact(soup, scatter(100, 9, 1.2), 4);
  });
  test.each([1e-3, 1, 1e6])('scale %d', (scale) => {
    expectExact(moved(dentedBall(12, 3), scale), scatter(60, 4, 1.5 * scale), 4 * scale);
  });
  test('far from the origin', () => {
    const points = scatter(60, 4, 1.5).map((v) => v + 1e4);
    expectExact(moved(dentedBall(12, 3), 1, 1e4), points, 1e5);
  });
  test('one to nine triangles', () => {
    for (let n = 1; n < 10; n++) expectExact(triangleSoup(n, n), scatter(20, n, 1.5), 4);
  });
});

describe('sign', () => {
  test('agrees with the winding number on a dented ball', () => {
    const ball = dentedBall(16, 11);
    const points = scatter(400, 12, 1.3);
    const out = query(ball, points);
    let inside = 0;
    for (let i = 0; i < 400; i++) {
      const within = windingNumber(ball.positions, ball.triangles, at(points, i)) > 0.5;
      expect(out.distance[i] < 0).toBe(within);
      if (within) inside++;
    }
    expect(inside).toBeGreaterThan(50);
    expect(inside).toBeLessThan(350);
  });
  test('beyond the apex of a 20 degree wedge, 60 degrees off the bisector', () => {
    const half = Math.tan((10 * Math.PI) / 180);
    const wedge = prism(
      [
        [0, 0],
        [10, -10 * half],
        [10, 10 * half],
      ],
      4,
    );
    const turn = (60 * Math.PI) / 180;
    const points = new Float64Array([-Math.cos(turn), Math.sin(turn), 2, -Math.cos(turn), -Math.sin(turn), 2]);
    const out = query(wedge, points);
    expect(out.distance[0]).toBeCloseTo(1, 14);
    expect(out.distance[1]).toBeCloseTo(1, 14);
    // The face of the other side alone would say "inside".
    expect(-Math.cos(turn) * -Math.sin(turn / 6) + Math.sin(turn) * -Math.cos(turn / 6)).toBeCloseTo(
      -0.766044443119,
      12,
    );
  });
  test('off corners, edges and faces of a cube', () => {
    const points = new Float64Array([-1, -1, -1, 2, 2, 0.5, 0.5, 0.5, 3, 0.5, 0.5, 0.9, 0.25, 0.5, 0.5]);
    const out = query(cube(), points);
    expect([...out.distance]).toEqual([Math.sqrt(3), Math.sqrt(2), 2, -(1 - 0.9), -0.25]);
    expect([...out.point.slice(0, 9)]).toEqual([0, 0, 0, 1, 1, 0.5, 0.5, 0.5, 1]);
  });
  test('on the surface is zero', () => {
    const out = query(cube(), new Float64Array([0.3, 0.4, 1, 0, 0, 0, 1, 0.5, 1]));
    expect([...out.distance].map(Math.abs)).toEqual([0, 0, 0]);
  });
  test('beside an open strip follows the faces at its border', () => {
    const mesh = {
      positions: new Float64Array([0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0]),
      triangles: new Uint32Array([0, 1, 2, 0, 2, 3]),
    };
    const out = query(mesh, new Float64Array([-3, 0.5, 4, -3, 0.5, -4, 5, 4, -1e-3]));
    expect([...out.distance.slice(0, 2)]).toEqual([5, -5]);
    expect(out.distance[2]).toBeCloseTo(-Math.hypot(4, 3, 1e-3), 14);
  });
});

describe('triangles without area', () => {
  test('count as segments and points', () => {
    const positions = new Float64Array([0, 0, 0, 4, 0, 0, 1, 0, 0, 9, 9, 9]);
    for (const corners of [
      [0, 1, 2],
      [2, 0, 1],
      [1, 2, 0],
      [0, 2, 1],
    ]) {
      const out = query(
        { positions, triangles: new Uint32Array([...corners, 3, 3, 3]) },
        new Float64Array([3, 2, 0, -3, 4, 0, 9, 9, 7]),
      );
      expect([...out.distance].map(Math.abs)).toEqual([2, 5, 2]);
      expect([...out.triangle]).toEqual([0, 0, 1]);
    }
  });
  test('on the edges of a closed mesh leave the sign right', () => {
    const ball = dentedBall(10, 2);
    const triangles: number[] = [];
    for (let t = 0; t < ball.triangles.length; t += 3) {
      const [a, b, c] = ball.triangles.slice(t, t + 3);
      triangles.push(a, b, b, a, b, c, c, c, c);
    }
    const mesh = { positions: ball.positions, triangles: new Uint32Array(triangles) };
    const points = scatter(300, 3, 1.3);
    const out = query(mesh, points);
    for (let i = 0; i < 300; i++) {
      const p = at(points, i);
      expect(out.distance[i] < 0).toBe(windingNumber(ball.positions, ball.triangles, p) > 0.5);
      expect(Math.abs(out.distance[i])).toBeCloseTo(bruteClosest(ball.positions, ball.triangles, p).distance, 13);
    }
  });
});

describe('answers do not depend on the way of asking', () => {
  const ball = dentedBall(20, 1);
  const points = scatter(500, 2, 1.4);
  const plain = query(ball, points);
  test('order of the points and split of the range', () => {
    const tree = buildTriangleTree(ball.positions, ball.triangles, { shared: true });
    const out = emptyClosest(500);
    const order = mortonOrder(points);
    for (const [from, to] of [
      [300, 500],
      [0, 7],
      [7, 300],
    ]) {
      closestTriangles(tree, points, order, from, to, out);
    }
    expect(out).toEqual(plain);
  });
  test('survives a clone', () => {
    const tree = structuredClone(buildTriangleTree(ball.positions, ball.triangles));
    const out = emptyClosest(500);
    closestTriangles(tree, points, null, 0, 500, out);
    expect(out).toEqual(plain);
  });
  test('order of the triangles', () => {
    const count = ball.triangles.length / 3;
    const triangles = ball.triangles.slice();
    for (let t = 0; t < count; t++) triangles.set(ball.triangles.slice(3 * t, 3 * t + 3), 3 * ((t * 7) % count));
    const out = query({ positions: ball.positions, triangles }, points);
    for (let i = 0; i < 500; i++) expect(Math.abs(out.distance[i] - plain.distance[i])).toBeLessThan(1e-14);
  });
  test('the lowest number wins at equal distance', () => {
    const one = triangleSoup(1, 4);
    const mesh = { positions: one.positions, triangles: new Uint32Array(Array(40).fill([0, 1, 2]).flat()) };
    expect([...query(mesh, scatter(20, 5, 2)).triangle]).toEqual(Array(20).fill(0));
  });
  test('without feet', () => {
    const out = emptyClosest(500, false);
    closestTriangles(buildTriangleTree(ball.positions, ball.triangles), points, null, 0, 500, out);
    expect(out.distance).toEqual(plain.distance);
  });
});

describe('points without an answer', () => {
  test('beyond the greatest distance, and not finite', () => {
    const out = query(cube(), new Float64Array([0.5, 0.5, 2.5, 0.5, 0.5, 1.5, Number.NaN, 0, 0]), 1);
    expect([...out.triangle.map((t) => Math.sign(t))]).toEqual([-1, 1, -1]);
    expect([...out.distance]).toEqual([Infinity, 0.5, Infinity]);
    expect([...out.point.slice(0, 3)]).toEqual([NaN, NaN, NaN]);
  });
});

describe('bad input', () => {
  test.each([
    ['shape/empty', [0, 0, 0], []],
    ['shape/index', [0, 0, 0, 1, 0, 0, 0, 1, 0], [0, 1, 3]],
    ['shape/not-finite', [0, 0, 0, 1, Infinity, 0, 0, 1, 0], [0, 1, 2]],
  ])('%s', (code, positions, triangles) => {
    expect(() => buildTriangleTree(new Float64Array(positions), new Uint32Array(triangles))).toThrow(
      expect.objectContaining({ code }),
    );
  });
});
