import { describe, expect, test } from 'vitest';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { EdgeJunction, NoseLine } from '../../src/stock/edge-curve.ts';
import { type FlankSamples, junctionOnFlank } from '../../src/stock/junction-flank.ts';

const LINE: NoseLine = { x: 0, y: 0, inX: 1, inY: 0 };
const SIGMA = 0.01;

/** Upper flank y = 0.3 + 0.1 x + half bend x²: the material lies to the right of the run away from the nose. */
function samples(bend: number, sigma = 0, next: () => number = () => 0): FlankSamples {
  const count = 600;
  const points = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const x = 0.05 + i * 0.02;
    points[2 * i] = x;
    points[2 * i + 1] = 0.3 + 0.1 * x + 0.5 * bend * x * x + sigma * next();
  }
  return { points, material: -1, u: new Float64Array(count).fill(sigma || 1e-3) };
}
const made = (flank: FlankSamples, window: number, line = LINE): EdgeJunction => {
  const found = junctionOnFlank(flank, line, 1.2345, { window });
  if (typeof found === 'string') throw new Error(found);
  return found;
};

describe('junction on a measured flank', () => {
  test('a straight flank without noise gives place and tangent', () => {
    const found = made(samples(0), 3);
    expect(found.x).toBeCloseTo(1.2345, 12);
    expect(found.y).toBeCloseTo(0.3 + 0.12345, 12);
    expect(found.tangentY / found.tangentX).toBeCloseTo(0.1, 12);
    expect(found.tangentX).toBeLessThan(0);
    expect(found.curvature).toBeCloseTo(0, 11);
  });

  test('a bent flank gives its curvature, positive where convex', () => {
    const bend = -0.02;
    const found = made(samples(bend), 0.5);
    const slope = 0.1 + bend * 1.2345;
    expect(found.y).toBeCloseTo(0.3 + 0.12345 + 0.5 * bend * 1.2345 ** 2, 6);
    expect(found.tangentY / found.tangentX).toBeCloseTo(slope, 5);
    expect(found.curvature).toBeCloseTo(0.02 / Math.hypot(1, slope) ** 3, 4);
  });

  test('stated uncertainties are the scatter of 400 noisy flanks', () => {
    const truth = made(samples(-0.02), 2);
    let squares = [0, 0, 0];
    let stated = truth.u;
    const next = normalFrom(seededRandom(7));
    const rounds = 400;
    for (let r = 0; r < rounds; r++) {
      const found = made(samples(-0.02, SIGMA, next), 2);
      stated = found.u;
      const off = [
        (found.y - truth.y) * Math.abs(truth.tangentX),
        Math.atan2(found.tangentY, found.tangentX) - Math.atan2(truth.tangentY, truth.tangentX),
        found.curvature - truth.curvature,
      ];
      off[1] = Math.atan2(Math.sin(off[1]), Math.cos(off[1]));
      squares = squares.map((sum, k) => sum + off[k] * off[k]);
    }
    const scatter = squares.map((sum) => Math.sqrt(sum / rounds));
    for (const [k, u] of [stated.position, stated.angle, stated.curvature].entries()) {
      expect(scatter[k] / u).toBeGreaterThan(0.88);
      expect(scatter[k] / u).toBeLessThan(1.12);
    }
  });

  test('what lies nearer than the junction has no say', () => {
    const flank = samples(0);
    for (let i = 0; flank.points[2 * i] < 1.2; i++) flank.points[2 * i + 1] += 0.4;
    expect(made(flank, 3).y).toBeCloseTo(0.3 + 0.12345, 12);
  });

  test('refuses beyond the flank and on few points', () => {
    expect(junctionOnFlank(samples(0), LINE, 20, { window: 2 })).toBe('beyond-flank');
    expect(junctionOnFlank(samples(0), LINE, 11, { window: 5 })).toBe('beyond-flank');
    expect(junctionOnFlank(samples(0), LINE, 0.01, { window: 2 })).toBe('beyond-flank');
    expect(junctionOnFlank(samples(0), LINE, 1, { window: 0.1 })).toBe('few-points');
    const coarse = { ...samples(0), u: new Float64Array(600).fill(0.3) };
    expect(junctionOnFlank(coarse, LINE, 1, { window: 0.5 })).toBe('short-window');
  });
});
