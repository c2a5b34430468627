import { describe, expect, it } from 'vitest';
import { fitCircle, taubinCircle } from '../../src/math/circle-fit.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';

const RAD = Math.PI / 180;

function arc(radius: number, halfAngleDeg: number, count: number, error: () => number) {
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const angle = halfAngleDeg * RAD * ((2 * (i + 0.5)) / count - 1);
    const r = radius + error();
    x[i] = 3 + r * Math.cos(angle);
    y[i] = -2 + r * Math.sin(angle);
  }
  return { x, y };
}

describe('circle fit', () => {
  it('returns the circle of exact points, by both fits', () => {
    const { x, y } = arc(0.7, 40, 21, () => 0);
    const fit = fitCircle(x, y);
    expect(fit?.radius).toBeCloseTo(0.7, 12);
    expect(fit?.x).toBeCloseTo(3, 12);
    expect(fit?.y).toBeCloseTo(-2, 12);
    expect(fit?.converged).toBe(true);
    expect(taubinCircle(x, y)?.[2]).toBeCloseTo(0.7, 9);
  });

  it('has no answer for points on a line or too few points', () => {
    expect(fitCircle([0, 1, 2, 3], [1, 2, 3, 4])).toBeNull();
    expect(fitCircle([0, 1], [0, 0])).toBeNull();
  });

  it('states the radius uncertainty of uniform arcs: factor √(m2 / (m2 − m1²))', () => {
    for (const half of [30, 60, 90, 180]) {
      const count = 4000;
      const { x, y } = arc(0.5, half, count, () => 0);
      const a = half * RAD;
      const m1 = Math.sin(a) / a;
      const m2 = 0.5 + Math.sin(2 * a) / (4 * a);
      const factor = Math.sqrt(m2 / (m2 - m1 * m1));
      const fit = fitCircle(x, y);
      expect(Math.sqrt(count * (fit?.covariance[8] ?? 0)) / factor).toBeCloseTo(1, 4);
    }
  });

  it('is nearly unbiased on a short noisy arc, with errors of the size it states', () => {
    const normal = normalFrom(seededRandom(4));
    const runs = 2000;
    let sum = 0;
    let squares = 0;
    let stated = 0;
    for (let k = 0; k < runs; k++) {
      const { x, y } = arc(1, 30, 41, () => 0.01 * normal());
      const fit = fitCircle(x, y);
      const error = (fit?.radius ?? Number.NaN) - 1;
      sum += error;
      squares += error * error;
      stated += 0.01 * Math.sqrt(fit?.covariance[8] ?? Number.NaN);
    }
    expect(Math.abs(sum / runs)).toBeLessThan(0.005);
    expect(Math.sqrt(squares / runs) / (stated / runs)).toBeGreaterThan(0.93);
    expect(Math.sqrt(squares / runs) / (stated / runs)).toBeLessThan(1.07);
  });

  it('weighs points by what they stand for', () => {
    const x = [1, 0, -1, 0, 2];
    const y = [0, 1, 0, -1, 2];
    expect(fitCircle(x, y, [1, 1, 1, 1, 0])?.radius).toBeCloseTo(1, 10);
  });
});
