import { describe, expect, it } from 'vitest';
import { findCorners } from '../../src/fit/corners.ts';
import { withNormalNoise } from '../support/noise.ts';
import {
  circleSection,
  discSection,
  ellipseSection,
  flatBackSection,
  joukowskiSection,
  nacaSection,
  plateSection,
  sectionCorners,
  sectionPoints,
} from '../support/sections.ts';

const smooth = [circleSection(5), ellipseSection(20, 2), plateSection(40, 1, 1), plateSection(40, 3, 1), discSection()];
const sharp = [flatBackSection(), nacaSection(0.12, 40)];

describe('corners', () => {
  for (const section of [...sharp, joukowskiSection()]) {
    for (const count of [200, 2000]) {
      it(`of the ${section.name} are found exactly in ${count} points without noise`, () => {
        expect(findCorners(sectionPoints(section, count))).toEqual(sectionCorners(section, count));
      });
    }
  }

  for (const section of sharp) {
    for (const [count, sigma] of [
      [1000, 0.005],
      [4000, 0.005],
      [2000, 0.01],
    ]) {
      it(`of the ${section.name} are found in ${count} points with ${1000 * sigma} µm noise`, () => {
        for (let seed = 1; seed <= 5; seed++) {
          const found = findCorners(withNormalNoise(sectionPoints(section, count), sigma, seed));
          const true_ = sectionCorners(section, count);
          expect(found.length).toBe(true_.length);
          found.forEach((corner, c) => {
            const apart = Math.abs(corner - true_[c]);
            expect((Math.min(apart, count - apart) * 82) / count).toBeLessThan(0.4);
          });
        }
      });
    }
  }

  for (const section of smooth) {
    it(`are never seen on the ${section.name}`, () => {
      for (const [count, sigma] of [
        [2000, 0],
        [2000, 0.005],
        [5000, 0.005],
        [10000, 0.002],
      ]) {
        for (let seed = 1; seed <= 3; seed++) {
          expect(findCorners(withNormalNoise(sectionPoints(section, count), sigma, seed))).toEqual([]);
        }
      }
    });
  }

  it('are not seen on a rounded edge sampled by eight points', () => {
    const edge: number[] = [];
    for (let i = 0; i < 8; i++) {
      const angle = -Math.PI / 2 + (Math.PI * i) / 7;
      edge.push(10 + 0.3 * Math.cos(angle), 0.3 * Math.sin(angle));
    }
    const step = (0.3 * Math.PI) / 7;
    const flat = Array.from({ length: 60 }, (_, i) => 10 - step * (i + 1));
    const points = [...flat.flatMap((x) => [x, 0.3])];
    const nose = 10 - step * 61;
    for (let i = 0; i < 8; i++) {
      const angle = Math.PI / 2 + (Math.PI * i) / 7;
      points.push(nose + 0.3 * Math.cos(angle), 0.3 * Math.sin(angle));
    }
    points.push(...flat.reverse().flatMap((x) => [x, -0.3]), ...edge);
    expect(findCorners(Float64Array.from(points))).toEqual([]);
  });
});
