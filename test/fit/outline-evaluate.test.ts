import { describe, expect, it } from 'vitest';
import { interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import {
  curvatureAt,
  evaluateOutline,
  outlineKnotSpans,
  outlineLength,
  parameterAfter,
  sampleOutline,
} from '../../src/fit/outline-evaluate.ts';
import type { Outline } from '../../src/model/outline.ts';
import { ellipseSection, flatBackSection, sectionCorners, sectionPoints } from '../support/sections.ts';

/** Plain recursive definition of the B-spline basis (Cox-de Boor), the slow reference. */
function basis(knot: (i: number) => number, i: number, p: number, t: number): number {
  if (p === 0) return knot(i) <= t && t < knot(i + 1) ? 1 : 0;
  const left = knot(i + p) - knot(i);
  const right = knot(i + p + 1) - knot(i + 1);
  const a = left > 0 ? ((t - knot(i)) / left) * basis(knot, i, p - 1, t) : 0;
  const b = right > 0 ? ((knot(i + p + 1) - t) / right) * basis(knot, i + 1, p - 1, t) : 0;
  return a + b;
}

function reference(outline: Outline, t: number): [number, number] {
  const n = outline.knots.length;
  const knot = (i: number) => outline.knots[((i % n) + n) % n] + outline.period * Math.floor(i / n);
  let x = 0;
  let y = 0;
  for (let i = -outline.degree; i < n; i++) {
    const value = basis(knot, i, outline.degree, t);
    x += value * outline.controlX[(i + n) % n];
    y += value * outline.controlY[(i + n) % n];
  }
  return [x, y];
}

function wobbly(degree: number): Outline {
  const knots = Float64Array.of(0.5, 1, 1.2, 2, 2.5, 2.5, 3.1, 4, 4.4, 5.5);
  const controlX = knots.map((_, i) => 4 * Math.cos((2 * Math.PI * i) / 10) + 0.3 * Math.sin(5 * i));
  const controlY = knots.map((_, i) => 2 * Math.sin((2 * Math.PI * i) / 10));
  return { degree, period: 6, knots, controlX, controlY, corners: new Float64Array() };
}

describe('outline evaluation', () => {
  for (const degree of [2, 3, 4, 5]) {
    it(`agrees with the recursive definition for degree ${degree}, also on other turns`, () => {
      const outline = wobbly(degree);
      const out = new Float64Array(8);
      for (let t = 0.5; t < 6.5; t += 0.13) {
        const [x, y] = reference(outline, t);
        for (const turn of [0, -6, 12]) {
          evaluateOutline(outline, t + turn, out);
          expect(out[0]).toBeCloseTo(x, 11);
          expect(out[1]).toBeCloseTo(y, 11);
        }
      }
    });

    it(`gives derivatives of degree ${degree} that differences confirm`, () => {
      const outline = wobbly(degree);
      const out = new Float64Array(8);
      const low = new Float64Array(8);
      const high = new Float64Array(8);
      const t = 1.63;
      const h = 1e-5;
      evaluateOutline(outline, t, out);
      evaluateOutline(outline, t - h, low);
      evaluateOutline(outline, t + h, high);
      for (let k = 0; k < 6; k++) expect(out[k + 2]).toBeCloseTo((high[k] - low[k]) / (2 * h), 6);
    });
  }

  it('gives both directions at a corner', () => {
    const section = flatBackSection();
    const outline = interpolateOutline(sectionPoints(section, 400), { corners: sectionCorners(section, 400) });
    const out = new Float64Array(8);
    evaluateOutline(outline, outline.corners[0], out, 'before');
    expect(Math.abs(Math.atan2(out[3], out[2]))).toBeLessThan(0.05);
    evaluateOutline(outline, outline.corners[0], out, 'after');
    expect(Math.atan2(out[3], out[2])).toBeCloseTo(Math.PI / 2, 6);
    expect(sampleOutline(outline, outline.corners)[0]).toBeCloseTo(30, 12);
  });

  it('measures arc length and curvature of an ellipse', () => {
    const outline = interpolateOutline(sectionPoints(ellipseSection(20, 2), 4000));
    expect(outlineLength(outline, 0, outline.period)).toBeCloseTo(81.279484, 5);
    const quarter = outlineLength(outline, 0, outline.period / 4);
    expect(quarter).toBeCloseTo(81.279484 / 4, 3);
    expect(outlineLength(outline, outline.period / 4, 0)).toBeCloseTo(-quarter, 12);
    expect(outlineLength(outline, -3, 5 + outline.period)).toBeCloseTo(
      outlineLength(outline, -3, 5) + outlineLength(outline, 0, outline.period),
      9,
    );
    expect(Math.abs(0.2 * curvatureAt(outline, 0) - 1)).toBeLessThan(0.005);
    expect(outlineLength(outline, 2, parameterAfter(outline, 2, 17.5))).toBeCloseTo(17.5, 10);
    expect(outlineKnotSpans(outline).length).toBe(4000);
  });
});
