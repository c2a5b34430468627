import { describe, expect, it } from 'vitest';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { evaluateOutline, outlineLength } from '../../src/fit/outline-evaluate.ts';
import { outlineError } from '../support/outline-error.ts';
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
  type TestSection,
} from '../support/sections.ts';

describe('closed interpolation', () => {
  // A cubic spline misses a jump of curvature k at a node by at most 0.0245 k h² (cardinal spline of x₊² / 2).
  const atJump = (k: number, perimeter: number) => 0.0247 * k * (perimeter / 4000) ** 2;
  const cases: [TestSection, number, number | null][] = [
    [circleSection(5), 1e-10, 2 * Math.PI * 5],
    [ellipseSection(20, 2), 1e-6, 81.279484],
    [plateSection(40, 1, 1), 1e-5, 76 + 2 * Math.PI],
    [plateSection(40, 3, 1), 1e-5, 81.364893],
    [discSection(), atJump(1 / 0.3, 72.586095), 72.586095],
    [nacaSection(0.12, 40), 1e-6, 40 * 2.039549],
    [joukowskiSection(), 1e-6, 8.230023],
    [flatBackSection(), 1e-5, null],
  ];
  for (const [section, tolerance, perimeter] of cases) {
    it(`reproduces the ${section.name} from 4000 points`, () => {
      const points = sectionPoints(section, 4000);
      const outline = interpolateOutline(points, { corners: sectionCorners(section, 4000) });
      expect(outlineError(outline, section.distance).max).toBeLessThan(tolerance);
      if (perimeter) expect(outlineLength(outline, 0, outline.period) / perimeter).toBeCloseTo(1, 6);
      const out = new Float64Array(8);
      let at = outline.knots[0];
      for (let i = 0; i < 50; i++) {
        evaluateOutline(outline, at, out);
        expect(out[0]).toBeCloseTo(points[2 * i], 11);
        expect(out[1]).toBeCloseTo(points[2 * i + 1], 11);
        at += Math.hypot(points[2 * i + 2] - points[2 * i], points[2 * i + 3] - points[2 * i + 1]);
      }
    });
  }

  it('converges with the fourth power of the spacing on a smooth outline', () => {
    const section = circleSection(5);
    const coarse = outlineError(interpolateOutline(sectionPoints(section, 24)), section.distance).max;
    const fine = outlineError(interpolateOutline(sectionPoints(section, 48)), section.distance).max;
    expect(coarse / fine).toBeGreaterThan(14);
    expect(coarse / fine).toBeLessThan(18);
  });

  it('is smooth to the second derivative without corners, and draws straight sides of a polygon of corners', () => {
    const smooth = interpolateOutline(sectionPoints(ellipseSection(3, 2), 20));
    const before = new Float64Array(8);
    const after = new Float64Array(8);
    for (const knot of smooth.knots) {
      evaluateOutline(smooth, knot, before, 'before');
      evaluateOutline(smooth, knot, after, 'after');
      for (let k = 0; k < 6; k++) expect(before[k]).toBeCloseTo(after[k], 11);
    }
    const square = interpolateOutline(Float64Array.of(0, 0, 4, 0, 4, 3, 0, 3), { corners: [0, 1, 2, 3] });
    expect(square.knots.length).toBe(12);
    expect(outlineLength(square, 0, square.period)).toBeCloseTo(14, 12);
    evaluateOutline(square, 5.5, after);
    expect([...after.slice(0, 6)].map((value) => Math.round(value * 1e9) / 1e9)).toEqual([4, 1.5, 0, 1, 0, 0]);
  });

  it('refuses repeated points and too few', () => {
    expect(() => interpolateOutline(Float64Array.of(0, 0, 1, 0))).toThrow(/at least 3 points/);
    expect(() => interpolateOutline(Float64Array.of(0, 0, 1, 0, 1, 0, 0, 1))).toThrow(/coincide/);
  });
});
