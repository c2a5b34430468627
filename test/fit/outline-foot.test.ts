import { describe, expect, it } from 'vitest';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { sampleOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFeet, outlineFoot } from '../../src/fit/outline-foot.ts';
import { seededRandom } from '../../src/math/random.ts';
import {
  circleSection,
  discSection,
  flatBackSection,
  nacaSection,
  sectionCorners,
  sectionPoints,
} from '../support/sections.ts';

describe('foot points', () => {
  it('on a circle are radial, signed outside and inside', () => {
    const outline = interpolateOutline(sectionPoints(circleSection(5), 1500));
    for (const [radius, angle] of [
      [7, 0.3],
      [4, 2],
      [5, -1],
      [0.5, 3],
      [60, 5],
    ]) {
      const foot = outlineFoot(outline, radius * Math.cos(angle), radius * Math.sin(angle));
      expect(foot.distance).toBeCloseTo(radius - 5, 8);
      expect(Math.hypot(foot.x, foot.y)).toBeCloseTo(5, 8);
      expect(foot.atCorner).toBe(false);
    }
  });

  it('are the global nearest places, as a dense search finds them', () => {
    const random = seededRandom(11);
    for (const section of [discSection(), nacaSection(0.12, 40), flatBackSection()]) {
      const outline = interpolateOutline(sectionPoints(section, 300), { corners: sectionCorners(section, 300) });
      const dense = sampleOutline(
        outline,
        Float64Array.from({ length: 20000 }, (_, i) => (outline.period * i) / 20000),
      );
      for (let k = 0; k < 40; k++) {
        const x = 80 * (random() - 0.5);
        const y = 16 * (random() - 0.5);
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i < dense.length; i += 2) least = Math.min(least, Math.hypot(dense[i] - x, dense[i + 1] - y));
        const foot = outlineFoot(outline, x, y);
        expect(Math.abs(foot.distance)).toBeLessThanOrEqual(least + 1e-12);
        expect(Math.abs(foot.distance)).toBeGreaterThan(least - outline.period / 40000);
        expect(Math.hypot(foot.x - x, foot.y - y)).toBeCloseTo(Math.abs(foot.distance), 12);
      }
    }
  });

  it('at a sharp corner keep the sign outside right', () => {
    const section = nacaSection(0.12, 40);
    const outline = interpolateOutline(sectionPoints(section, 600), { corners: sectionCorners(section, 600) });
    for (const angle of [-1.2, -0.5, 0, 0.5, 1.2]) {
      const foot = outlineFoot(outline, 40 + Math.cos(angle), Math.sin(angle));
      expect(foot.atCorner).toBe(true);
      expect(foot.distance).toBeCloseTo(1, 9);
    }
    expect(outlineFoot(outline, 39, 0).distance).toBeLessThan(0);
  });

  it('in a batch, with and without guesses, are those of single searches', () => {
    const outline = interpolateOutline(sectionPoints(discSection(), 500));
    const on = Float64Array.from({ length: 200 }, (_, i) => (outline.period * i) / 200);
    const points = sampleOutline(outline, on).map((value, i) => value + 0.01 * Math.sin(3 * i));
    const t = new Float64Array(200);
    const d = new Float64Array(200);
    outlineFeet(outline, points, null, t, d);
    const guessedT = new Float64Array(200);
    const guessedD = new Float64Array(200);
    outlineFeet(
      outline,
      points,
      on.map((value) => value + 0.02),
      guessedT,
      guessedD,
    );
    for (let i = 0; i < 200; i++) {
      const foot = outlineFoot(outline, points[2 * i], points[2 * i + 1]);
      expect(d[i]).toBe(foot.distance);
      expect(t[i]).toBe(foot.t);
      expect(guessedD[i]).toBeCloseTo(d[i], 11);
    }
  });
});
