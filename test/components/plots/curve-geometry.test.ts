import { describe, expect, it } from 'vitest';
import { curveGeometry } from '../../../components/plots/curve-geometry.ts';

const size = { width: 260, height: 54, left: 44 };

describe('geometry of a small curve', () => {
  it('keeps zero and both ends in the plot, rising values to the top', () => {
    const g = curveGeometry([-1, 0, 1], [-0.2, 0.3, 0.1], size);
    expect(g.zero!).toBeGreaterThan(g.y(0.3));
    expect(g.zero!).toBeLessThan(g.y(-0.2));
    for (const value of [-0.2, 0, 0.3]) {
      expect(g.y(value)).toBeGreaterThanOrEqual(g.plot.y);
      expect(g.y(value)).toBeLessThanOrEqual(g.plot.y + g.plot.height);
    }
    expect([g.x(-1), g.x(1)]).toEqual([g.plot.x, g.plot.x + g.plot.width]);
  });

  it('reads between points by straight lines, and nothing outside', () => {
    const g = curveGeometry([0, 1, 3], [2, 4, 0], size);
    expect(g.at(0.25)).toBeCloseTo(2.5, 12);
    expect(g.at(2)).toBeCloseTo(2, 12);
    expect(g.at(3)).toBe(0);
    expect(g.at(3.01)).toBeNull();
    expect(g.at(-0.01)).toBeNull();
  });

  it('draws nothing without points', () => {
    const g = curveGeometry([], [], size);
    expect(g.line).toBe('');
    expect(g.zero).toBeNull();
    expect(g.at(0)).toBeNull();
  });
});
