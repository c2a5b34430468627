import { expect, test } from 'vitest';
import { findCrossing } from '../../src/load/section-crossing.ts';
import { seededRandom } from '../../src/math/random.ts';
import { ellipse } from './read.ts';

/** Crossings by comparing every pair of steps. */
function bruteForce(p: Float64Array): boolean {
  const side = (a: number, b: number, c: number): number =>
    Math.sign(
      (p[2 * b] - p[2 * a]) * (p[2 * c + 1] - p[2 * a + 1]) - (p[2 * b + 1] - p[2 * a + 1]) * (p[2 * c] - p[2 * a]),
    );
  for (let i = 0; 2 * i + 3 < p.length; i++) {
    for (let j = i + 2; 2 * j + 3 < p.length; j++) {
      if (side(i, i + 1, j) * side(i, i + 1, j + 1) < 0 && side(j, j + 1, i) * side(j, j + 1, i + 1) < 0) return true;
    }
  }
  return false;
}

test('agrees with the comparison of all pairs on seeded polylines', () => {
  const random = seededRandom(5);
  let crossing = 0;
  for (let trial = 0; trial < 300; trial++) {
    const points = Float64Array.from({ length: 2 * (4 + (trial % 9)) }, () => random());
    const expected = bruteForce(points);
    if (expected) crossing++;
    expect(findCrossing(points).found !== null).toBe(expected);
  }
  expect(crossing).toBeGreaterThan(50);
  expect(crossing).toBeLessThan(290);
});

test('a closed outline with its closing point and touching points is sound', () => {
  const loop = ellipse(2000);
  expect(findCrossing(Float64Array.from([...loop, loop[0]].flat())).found).toBeNull();
  expect(findCrossing(Float64Array.of(0, 0, 4, 0, 4, 4, 2, 0, 0, 4)).found).toBeNull();
});

test('two points exchanged in a smooth outline of 2000 points are found', () => {
  const loop = ellipse(2000);
  [loop[700], loop[702]] = [loop[702], loop[700]];
  const { found } = findCrossing(Float64Array.from(loop.flat()));
  expect(found?.every((step) => Math.abs(step - 701) <= 3)).toBe(true);
});

test('noise beyond the point spacing is counted, a large loop still found', () => {
  const random = seededRandom(11);
  const noisy = ellipse(4000).map(([x, y]): [number, number] => [x + 0.03 * random(), y + 0.03 * random()]);
  const sound = findCrossing(Float64Array.from(noisy.flat()));
  expect(sound.found).toBeNull();
  expect(sound.local).toBeGreaterThan(10);
  const twisted = [...noisy.slice(0, 1000), ...noisy.slice(1000, 3000).reverse(), ...noisy.slice(3000)];
  expect(findCrossing(Float64Array.from(twisted.flat())).found).not.toBeNull();
});
