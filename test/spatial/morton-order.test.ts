import { expect, test } from 'vitest';
import { mortonOrder } from '../../src/spatial/morton-order.ts';
import { scatter } from '../support/small-meshes.ts';

test('is a permutation, whatever the points', () => {
  const points = scatter(5000, 1, 40);
  points.set([NaN, 0, 0, Infinity, 1, 1], 300);
  for (const given of [points, scatter(5000, 1, 40), new Float64Array(300), new Float64Array(0)]) {
    const order = mortonOrder(given);
    expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: given.length / 3 }, (_, i) => i));
  }
});

test('visits the eight corners of a cube in Z order', () => {
  const corners = new Float64Array(24);
  for (let i = 0; i < 8; i++) corners.set([i & 1, (i >> 1) & 1, (i >> 2) & 1], 3 * (7 - i));
  expect([...mortonOrder(corners)]).toEqual([7, 6, 5, 4, 3, 2, 1, 0]);
});

test('keeps the order of points in one cell', () => {
  expect([...mortonOrder(new Float64Array([9, 9, 9, 1, 1, 1, 9, 9, 9, 1, 1, 1]))]).toEqual([1, 3, 0, 2]);
});

test('brings neighbours together', () => {
  const points = scatter(20000, 3, 50);
  const order = mortonOrder(points);
  const path = (at: (k: number) => number) => {
    let sum = 0;
    for (let k = 1; k < 20000; k++) {
      const a = 3 * at(k - 1);
      const b = 3 * at(k);
      sum += Math.hypot(points[a] - points[b], points[a + 1] - points[b + 1], points[a + 2] - points[b + 2]);
    }
    return sum;
  };
  expect(path((k) => order[k])).toBeLessThan(0.1 * path((k) => k));
});
