import { describe, expect, it } from 'vitest';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { orderOutlinePoints } from '../../src/section/order-points.ts';
import {
  discSection,
  ellipseSection,
  flatBackSection,
  joukowskiSection,
  nacaSection,
  plateSection,
  sectionPoints,
} from '../support/sections.ts';

/** Shuffles points; returns them with the true index of each. */
function shuffled(points: Float64Array, seed: number): { points: Float64Array; index: Uint32Array } {
  const count = points.length >> 1;
  const random = seededRandom(seed);
  const index = Uint32Array.from({ length: count }, (_, i) => i);
  for (let i = count - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [index[i], index[j]] = [index[j], index[i]];
  }
  const out = new Float64Array(points.length);
  index.forEach((from, i) => {
    out[2 * i] = points[2 * from];
    out[2 * i + 1] = points[2 * from + 1];
  });
  return { points: out, index };
}

/** Largest and signed total step of the true index along the order found. */
function steps(order: Uint32Array, index: Uint32Array): { largest: number; turns: number } {
  const count = order.length;
  let largest = 0;
  let sum = 0;
  for (let k = 0; k < count; k++) {
    let step = index[order[(k + 1) % count]] - index[order[k]];
    step -= count * Math.round(step / count);
    largest = Math.max(largest, Math.abs(step));
    sum += step;
  }
  return { largest, turns: sum / count };
}

const sections = [
  ellipseSection(20, 2),
  plateSection(40, 1, 1),
  discSection(),
  discSection(0.2, 3, -3),
  nacaSection(0.12, 40),
  joukowskiSection(),
  flatBackSection(),
];

describe('ordering of section points', () => {
  for (const section of sections) {
    it(`restores the ${section.name} exactly from shuffled points`, () => {
      for (const count of [200, 3000]) {
        const { points, index } = shuffled(sectionPoints(section, count), count);
        const order = orderOutlinePoints(points);
        expect([...order].sort((a, b) => a - b)).toEqual([...index.keys()]);
        expect(steps(order, index)).toEqual({ largest: 1, turns: 1 });
      }
    });
  }

  for (const section of [discSection(), discSection(0.2, 3, -3), plateSection(40, 1, 1), flatBackSection()]) {
    it(`keeps to the outline of the ${section.name} in noise wider than the spacing`, () => {
      const normal = normalFrom(seededRandom(4));
      const noisy = sectionPoints(section, 12000).map((value) => value + 0.006 * normal());
      const { points, index } = shuffled(noisy, 8);
      const found = steps(orderOutlinePoints(points), index);
      expect(found.turns).toBe(1);
      expect(found.largest).toBeLessThan(20);
    });
  }

  it('uses given normals', () => {
    const section = plateSection(30, 0.1, 0.1);
    const { points, index } = shuffled(sectionPoints(section, 3000), 2);
    const normals = points.map((value, i) => {
      const x = points[i & ~1];
      const flat = Math.abs(x) <= 14.9;
      const y = points[i | 1];
      if (flat) return i & 1 ? Math.sign(y) : 0;
      return i & 1 ? y / 0.1 : (value - 14.9 * Math.sign(x)) / 0.1;
    });
    expect(steps(orderOutlinePoints(points, normals), index)).toEqual({ largest: 1, turns: 1 });
  });

  it('refuses too few points', () => {
    expect(() => orderOutlinePoints(new Float64Array(8))).toThrow(/at least 8 points/);
  });
});
