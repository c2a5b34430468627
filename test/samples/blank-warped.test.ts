import { expect, test } from 'vitest';
import { nominalBlade } from '../../samples/blade.ts';
import { type WarpKind, warpedBlank } from '../../samples/blank-warped.ts';
import { distanceToBlade } from '../../samples/deviation.ts';
import { LEADING, PRESSURE, SUCTION, TRAILING } from '../../samples/section-form.ts';

const finished = nominalBlade();
const RANGES = {
  thick: { flank: [0.15, 1.1], nose: [0.1, 1.4] },
  'near-net': { flank: [-0.08, 0.08], nose: [0.3, 0.9] },
};

test.each(['thick', 'near-net'] as WarpKind[])('%s forgings: the truth is the distance of their points', (kind) => {
  for (let seed = 1; seed <= 20; seed++) {
    const blank = warpedBlank(seed, kind);
    const points = blank.points(60);
    for (let i = 0; i < points.length; i += 3) {
      const foot = distanceToBlade(finished, points[i], points[i + 1], points[i + 2]);
      if (foot.height < 0 || foot.height > finished.span) continue;
      expect(blank.truth(foot)).toBeCloseTo(foot.distance, 8);
    }
  }
});

test.each(['thick', 'near-net'] as WarpKind[])('%s forgings: stock stays in its range and differs by seed', (kind) => {
  const range = RANGES[kind];
  const seen = new Set<number>();
  for (let seed = 1; seed <= 50; seed++) {
    const { truth } = warpedBlank(seed, kind);
    seen.add(truth({ piece: PRESSURE, t: 0.5, height: 60 }));
    for (const height of [2, 40, 80, 118]) {
      for (const piece of [PRESSURE, SUCTION] as const)
        for (const t of [0.15, 0.5, 0.85]) {
          const stock = truth({ piece, t, height });
          expect(stock).toBeGreaterThan(range.flank[0]);
          expect(stock).toBeLessThan(range.flank[1]);
        }
      for (const piece of [LEADING, TRAILING] as const) {
        const stock = truth({ piece, t: 0, height });
        expect(stock).toBeGreaterThan(range.nose[0]);
        expect(stock).toBeLessThan(range.nose[1]);
      }
    }
  }
  expect(seen.size).toBe(50);
});

test('a forging repeats itself for its seed', () => {
  const [a, b] = [warpedBlank(9), warpedBlank(9)];
  expect(a.change).toEqual(b.change);
  expect(a.points(100, 2, 0.01)).toEqual(b.points(100, 2, 0.01));
  expect(a.points(100, 3, 0.01)).not.toEqual(b.points(100, 2, 0.01));
});
