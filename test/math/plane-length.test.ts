import { expect, it } from 'vitest';
import { planeLength } from '../../src/math/plane-length.ts';
import { seededRandom } from '../../src/math/random.ts';

it('gives whole lengths exactly, whichever component is the larger', () => {
  expect(planeLength(3, -4)).toBe(5);
  expect(planeLength(-4, 3)).toBe(5);
  expect(planeLength(0, -2)).toBe(2);
  expect(planeLength(-2, 0)).toBe(2);
  expect(planeLength(-0, 0)).toBe(0);
});

it('is right to the last places over all sizes, where squares would overflow too', () => {
  const random = seededRandom(5);
  for (let i = 0; i < 2000; i++) {
    const [x, y] = [(random() - 0.5) * 10 ** (40 * random() - 20), (random() - 0.5) * 10 ** (40 * random() - 20)];
    expect(Math.abs(planeLength(x, y) / Math.hypot(x, y) - 1)).toBeLessThan(4e-16);
  }
  expect(planeLength(3e200, 4e200) / 5e200).toBeCloseTo(1, 15);
});

it('is not a number where a component is none', () => {
  expect(planeLength(Number.NaN, 1)).toBeNaN();
  expect(planeLength(1, Number.NaN)).toBeNaN();
  expect(planeLength(0, Number.NaN)).toBeNaN();
});
