import { expect, test } from 'vitest';
import { meshPoints } from '../../src/relate/mesh-points.ts';

const square = (side: number) => ({
  kind: 'mesh' as const,
  positions: Float64Array.of(0, 0, 1, side, 0, 1, side, side, 1, 0, side, 1),
  triangles: Uint32Array.of(0, 1, 2, 0, 2, 3),
});

test('a mesh finer than the spacing gives its vertices', () => {
  expect(meshPoints(square(1), 2)).toEqual(square(1).positions);
});

test('no place of a coarse mesh is farther from a point than the spacing', () => {
  const points = meshPoints(square(10), 0.5);
  for (let x = 0.1; x < 10; x += 0.7)
    for (let y = 0.1; y < 10; y += 0.7) {
      let nearest = Number.POSITIVE_INFINITY;
      for (let i = 0; i < points.length; i += 3)
        nearest = Math.min(nearest, Math.hypot(points[i] - x, points[i + 1] - y, points[i + 2] - 1));
      expect(nearest).toBeLessThan(0.5);
    }
});

test('points are spread evenly by area and lie on the triangles', () => {
  const points = meshPoints(square(10), 0.5);
  const inner = points.subarray(12);
  let [x, y] = [0, 0];
  for (let i = 0; i < inner.length; i += 3) {
    x += inner[i];
    y += inner[i + 1];
    expect(inner[i + 2]).toBeCloseTo(1, 12);
  }
  expect(x / (inner.length / 3)).toBeCloseTo(5, 10);
  expect(y / (inner.length / 3)).toBeCloseTo(5, 10);
  const parts = Math.ceil((10 * Math.SQRT2) / 0.5);
  expect(inner.length / 3).toBe(2 * parts * parts);
});
