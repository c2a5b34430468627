import { describe, expect, test } from 'vitest';
import { splineSlopes } from '../../src/math/cubic-spline.ts';

function slopesOf(x: number[], y: number[], ends: 'free' | 'periodic'): Float64Array {
  const slopes = new Float64Array(x.length);
  splineSlopes(Float64Array.from(x), 0, x.length, Float64Array.from(y), slopes, 0, 1, ends);
  return slopes;
}

describe('splineSlopes', () => {
  test('free ends reproduce a cubic on uneven knots', () => {
    const x = [0, 0.3, 1, 1.8, 2, 3.1];
    const slopes = slopesOf(
      x,
      x.map((t) => 2 - t + 3 * t * t - 0.7 * t ** 3),
      'free',
    );
    x.forEach((t, i) => {
      expect(slopes[i]).toBeCloseTo(-1 + 6 * t - 2.1 * t * t, 12);
    });
  });

  test('two knots give a line, three a parabola', () => {
    expect([...slopesOf([1, 3], [2, 8], 'free')]).toEqual([3, 3]);
    const x = [0, 1, 3];
    const slopes = slopesOf(
      x,
      x.map((t) => t * t),
      'free',
    );
    x.forEach((t, i) => {
      expect(slopes[i]).toBeCloseTo(2 * t, 13);
    });
  });

  test('periodic ends: slopes of a sine converge with the fourth power of the step', () => {
    const worst = (n: number): number => {
      const x = Array.from({ length: n + 1 }, (_, i) => (2 * Math.PI * i) / n);
      const slopes = slopesOf(x, x.map(Math.sin), 'periodic');
      return Math.max(...x.map((t, i) => Math.abs(slopes[i] - Math.cos(t))));
    };
    expect(worst(40) / worst(80)).toBeGreaterThan(15);
    expect(worst(80)).toBeLessThan(1e-6);
  });

  test('reads and writes with a stride', () => {
    const slopes = new Float64Array(8);
    splineSlopes(Float64Array.of(0, 1, 2, 3), 0, 4, Float64Array.of(9, 0, 9, 2, 9, 4, 9, 6), slopes, 1, 2, 'free');
    slopes.forEach((slope, i) => {
      expect(slope).toBeCloseTo(i % 2 === 1 ? 2 : 0, 13);
    });
  });
});
