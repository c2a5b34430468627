import { expect, test } from 'vitest';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { symmetricEigen } from '../../src/math/symmetric-eigen.ts';

test('2 × 2 and diagonal matrices in closed form', () => {
  expect([...symmetricEigen([2, 1, 1, 2], 2).values]).toEqual([1, 3].map((v) => expect.closeTo(v, 14)));
  expect([...symmetricEigen([3, 0, 0, 0, 1, 0, 0, 0, 2], 3).values]).toEqual([1, 2, 3]);
});

test('6 × 6 over twelve decades, seed 8: vectors are orthonormal and reproduce the matrix', () => {
  const n = 6;
  const normal = normalFrom(seededRandom(8));
  const g = Array.from({ length: n * n }, (_, i) => normal() * 10 ** (-2 * Math.floor(i / n)));
  const a = Array.from({ length: n * n }, (_, k) => {
    let sum = 0;
    for (let m = 0; m < n; m++) sum += g[Math.floor(k / n) * n + m] * g[(k % n) * n + m];
    return sum;
  });
  const { values, vectors } = symmetricEigen(a, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      let unit = 0;
      let again = 0;
      for (let k = 0; k < n; k++) {
        unit += vectors[i * n + k] * vectors[j * n + k];
        again += values[k] * vectors[k * n + i] * vectors[k * n + j];
      }
      expect(Math.abs(unit - (i === j ? 1 : 0))).toBeLessThan(1e-14);
      expect(Math.abs(again - a[i * n + j])).toBeLessThan(1e-14 * Math.abs(a[0]) + 1e-14);
    }
  for (let k = 1; k < n; k++) expect(values[k]).toBeGreaterThanOrEqual(values[k - 1]);
});
