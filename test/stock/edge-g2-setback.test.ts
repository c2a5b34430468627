import { describe, expect, test } from 'vitest';
import { edgeChecks } from '../../src/stock/edge-checks.ts';
import { EXACT, type NoseLine } from '../../src/stock/edge-curve.ts';
import type { Flank } from '../../src/stock/edge-ellipse.ts';
import { smoothEdgeOnFlanks } from '../../src/stock/edge-g2-setback.ts';

const LINE: NoseLine = { x: 0, y: 0, inX: 1, inY: 0 };
/** Flank y = y0 + slope x + half bend x². */
const flank =
  (y0: number, slope: number, bend: number): Flank =>
  (x) => {
    const steep = slope + bend * x;
    const size = Math.hypot(1, steep);
    return {
      x,
      y: y0 + slope * x + 0.5 * bend * x * x,
      tangentX: -1 / size,
      tangentY: -steep / size,
      curvature: (-Math.sign(y0) * bend) / size ** 3,
      setback: x,
      u: EXACT,
    };
  };

describe('set-back of a smooth edge', () => {
  test.each([
    ['wanted too far', 1, 1],
    ['wanted too near', 0.25, 1],
    ['twice the size', 2, 2],
  ])('%s: one is found whose curvature rises from both flanks', (_, wanted, size) => {
    const upper = flank(0.23 * size, 0.08, -0.02 / size);
    const lower = flank(-0.22 * size, -0.09, -0.01 / size);
    const found = smoothEdgeOnFlanks(upper, lower, LINE, { least: 0.1, most: 3, wanted });
    if (typeof found === 'string') throw new Error(found);
    const checks = edgeChecks(found.curve);
    expect(checks.curvatureTurns).toEqual([0, 0]);
    expect(Math.max(...checks.tangentBreak)).toBeLessThan(1e-9);
    expect(Math.max(...checks.curvatureBreak.map(Math.abs))).toBeLessThan(1e-9);
    expect(found.curve.junctions[0].setback / size / 0.225).toBeGreaterThan(1.3);
    expect(found.curve.junctions[0].setback / size / 0.225).toBeLessThan(2.4);
  });

  test('refuses where every set-back allowed is hollow, and where there is no curve', () => {
    const [upper, lower] = [flank(0.23, 0.08, 0), flank(-0.22, -0.09, 0)];
    expect(smoothEdgeOnFlanks(upper, lower, LINE, { least: 0.9, most: 1.1, wanted: 1 })).toBe('hollow');
    expect(smoothEdgeOnFlanks(flank(0.23, 0, 0), lower, LINE, { least: 3, most: 3.1, wanted: 3 })).toBe('hollow');
    expect(
      smoothEdgeOnFlanks(flank(0.2, -0.1, 0), flank(-0.2, 0.1, 0), LINE, { least: 0.3, most: 0.5, wanted: 0.4 }),
    ).toBe('not-converged');
  });
});
