import { describe, expect, it } from 'vitest';
import { MAP_DEFAULTS, surfaceMap } from '../../src/relate/surface-map.ts';
import { alongAt } from '../../src/spatial/surface-evaluate.ts';
import { flankField, flankOffset } from '../../src/stock/adapt-flanks.ts';
import { exactTarget } from '../support/exact-nominal.ts';
import { type Field, relationOf } from './synthetic-relation.ts';

const { surface } = exactTarget(7, 160);
const WINDOW = { leading: 1.5, trailing: 1.5 };
const NOISE = 0.01;

/** A warp of the flank, and stock that stands on the edges alone. */
const warp: Field = (u, z) => 0.03 * Math.sin(u / 9) * Math.cos(z / 30) + 0.0002 * z;
const field: Field = (u, z) => {
  const along = Math.abs(alongAt(surface, u, z));
  const end = Math.abs(alongAt(surface, u < 0 ? surface.columns[0] : surface.columns[surface.columns.length - 1], z));
  return warp(u, z) + (along < WINDOW.leading || along > end - WINDOW.trailing ? 0.4 : 0);
};

describe('flank field', () => {
  const relation = relationOf(surface, field, { points: 200_000, noise: NOISE });
  const map = surfaceMap(surface, relation, MAP_DEFAULTS);

  it.each(['suction', 'pressure'] as const)(
    'tells the %s flank up to the window of the edges without the noise',
    (side) => {
      const flank = flankField(surface, map, side, WINDOW)!;
      const sign = side === 'suction' ? -1 : 1;
      let [squares, scaled, count] = [0, 0, 0];
      for (let u = 4; u < 33; u += 0.7)
        for (let z = 4; z < 117; z += 1.3) {
          const end = Math.abs(
            alongAt(surface, sign < 0 ? surface.columns[0] : surface.columns[surface.columns.length - 1], z),
          );
          const along = Math.abs(alongAt(surface, sign * u, z));
          if (along > end - WINDOW.trailing - 1) continue;
          const found = flankOffset(flank, sign * u, z);
          const error = found.value - warp(sign * u, z);
          squares += error ** 2;
          scaled += (error / found.u) ** 2;
          count++;
        }
      expect(Math.sqrt(squares / count)).toBeLessThan(0.0012);
      expect(Math.sqrt(scaled / count)).toBeGreaterThan(0.6);
      expect(Math.sqrt(scaled / count)).toBeLessThan(1.6);
    },
  );

  it('is not told where nothing is measured', () => {
    const bare = surfaceMap(
      surface,
      relationOf(surface, field, { points: 20_000, hidden: (u) => u < 0 }),
      MAP_DEFAULTS,
    );
    expect(flankField(surface, bare, 'suction', WINDOW)).toBeNull();
  });
});
