import { expect, it } from 'vitest';
import { seededRandom } from '../../src/math/random.ts';
import { type ArcStarts, pointsNearArc, pointsOfArc } from '../../src/measure/arc-starts.ts';

/** Places of a half circle of radius 0.4 about the origin. */
function halfCircle(): ArcStarts {
  const t = Float64Array.from({ length: 25 }, (_, k) => (Math.PI * k) / 24 - Math.PI / 2);
  return { t, x: t.map((a) => 0.4 * Math.cos(a)), y: t.map((a) => 0.4 * Math.sin(a)) };
}

it('takes the points with their nearest place within the arc', () => {
  const { near, guess } = pointsOfArc(halfCircle(), Float64Array.of(0.5, 0, -3, 0.4, 0.3, 0.3, -3, -0.4));
  expect(Array.from(near)).toEqual([0.5, 0, 0.3, 0.3]);
  expect(guess[0]).toBeCloseTo(0, 12);
  expect(guess[1]).toBeCloseTo(Math.PI / 4, 12);
});

it('leaves out only points that no shift brings onto the arc', () => {
  const starts = halfCircle();
  const random = seededRandom(9);
  const points = Float64Array.from({ length: 4000 }, () => 6 * random() - 3);
  const near = pointsNearArc(starts, points, 0.3);
  expect(near.length).toBeGreaterThan(points.length / 4);
  expect(near.length).toBeLessThan(0.8 * points.length);
  for (let turn = 0; turn < 16; turn++) {
    const [dx, dy] = [0.3 * Math.cos((turn * Math.PI) / 8), 0.3 * Math.sin((turn * Math.PI) / 8)];
    const move = (v: number, k: number) => v + (k % 2 === 0 ? dx : dy);
    const all = pointsOfArc(starts, points.map(move));
    expect(pointsOfArc(starts, near.map(move))).toEqual(all);
  }
});
