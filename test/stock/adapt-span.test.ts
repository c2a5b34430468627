import { describe, expect, it } from 'vitest';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { secondDifference, smoothSpan } from '../../src/stock/adapt-span.ts';

const heights = Float64Array.from({ length: 25 }, (_, i) => 5 * i + (i % 2));

describe('smoothing over the span', () => {
  it('leaves a straight line as it is', () => {
    const line = heights.map((h) => 0.1 - 0.002 * h);
    smoothSpan(heights, line).forEach((value, i) => {
      expect(value).toBeCloseTo(line[i], 12);
    });
  });

  it('takes noise off a slow wave', () => {
    const normal = normalFrom(seededRandom(4));
    const wave = heights.map((h) => 0.05 * Math.sin(h / 40));
    const noisy = wave.map((value) => value + 0.004 * normal());
    const rms = (list: Float64Array) =>
      Math.sqrt(list.reduce((sum, v, i) => sum + (v - wave[i]) ** 2, 0) / list.length);
    expect(rms(smoothSpan(heights, noisy))).toBeLessThan(0.65 * rms(noisy));
  });

  it('keeps fewer than four values', () => {
    expect([...smoothSpan([0, 1, 3], [1, 5, 2])]).toEqual([1, 5, 2]);
  });

  it('tells the second difference of a parabola: its curvature times both steps over two', () => {
    const bent = heights.map((h) => 1e-4 * h * h);
    const { value, at } = secondDifference(heights, bent);
    const steps = [heights[at] - heights[at - 1], heights[at + 1] - heights[at]];
    expect(value).toBeCloseTo(1e-4 * steps[0] * steps[1], 12);
    expect(value).toBeCloseTo(1e-4 * 24, 12);
  });
});
