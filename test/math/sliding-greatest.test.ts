import { expect, it } from 'vitest';
import { seededRandom } from '../../src/math/random.ts';
import { slidingGreatest } from '../../src/math/sliding-greatest.ts';

it('gives the greatest of each value and those after it', () => {
  expect(Array.from(slidingGreatest(Float64Array.of(1, 3, 2, 0, -1, 5), 2))).toEqual([3, 3, 2, 5, 5, 5]);
  expect(Array.from(slidingGreatest(Float64Array.of(4, 1), 9))).toEqual([4, 1]);
});

it('agrees with looking at every window, holes and ties included', () => {
  const random = seededRandom(3);
  const values = Float64Array.from({ length: 500 }, () => (random() < 0.2 ? Number.NaN : Math.floor(20 * random())));
  for (const reach of [0, 1, 7, 60, 800]) {
    const found = slidingGreatest(values, reach);
    for (let i = 0; i < values.length; i++) {
      const window = Array.from(values.subarray(i, i + reach + 1)).filter((v) => !Number.isNaN(v));
      expect(found[i]).toBe(Math.max(...window));
    }
  }
});
