import { describe, expect, test } from 'vitest';
import type { BsplineCurve, BsplineSurface } from '../../src/model/bspline.ts';
import {
  bsplineCurveAt,
  bsplineIsoCurve,
  bsplineSpan,
  bsplineSurfaceAt,
  CURVE_PLACE_SIZE,
  SURFACE_PLACE_SIZE,
} from '../../src/spatial/bspline-evaluate.ts';

const H = Math.SQRT1_2;

/** A full circle of a radius as four rational quarter arcs. */
function circle(radius: number, z = 0): BsplineCurve {
  const corners = [1, 0, 1, 1, 0, 1, -1, 1, -1, 0, -1, -1, 0, -1, 1, -1, 1, 0];
  const poles = Float64Array.from({ length: 27 }, (_, k) => {
    const i = Math.floor(k / 3);
    return k % 3 === 2 ? z : radius * corners[2 * i + (k % 3)];
  });
  return {
    degree: 2,
    knots: Float64Array.of(0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4),
    poles,
    weights: Float64Array.of(1, H, 1, H, 1, H, 1, H, 1),
  };
}

describe('curve', () => {
  test('a rational circle keeps its radius and runs along its tangent', () => {
    const out = new Float64Array(CURVE_PLACE_SIZE);
    for (let t = 0; t <= 4; t += 0.125) {
      bsplineCurveAt(circle(7.5, 3), t, out);
      expect(Math.hypot(out[0], out[1])).toBeCloseTo(7.5, 13);
      expect(out[0] * out[3] + out[1] * out[4]).toBeCloseTo(0, 12);
      expect(out[0] * out[4] - out[1] * out[3]).toBeGreaterThan(0);
      expect(out[2]).toBeCloseTo(3, 14);
      expect(out[5]).toBeCloseTo(0, 14);
    }
    bsplineCurveAt(circle(1), 0.5, out);
    expect(out[0]).toBeCloseTo(H, 15);
    expect(out[1]).toBeCloseTo(H, 15);
    // At the start of an arc the speed is degree × weight ratio × length of the first leg.
    bsplineCurveAt(circle(1), 0, out);
    expect(out[3]).toBeCloseTo(0, 14);
    expect(out[4]).toBeCloseTo(2 * H, 14);
  });

  test('a cubic with uneven knots is the polynomial its blossoms come from', () => {
    const knots = Float64Array.of(-1, -1, -1, -1, 0.3, 0.5, 2, 2, 2, 2);
    // t³ has the blossom a b c, t the mean of its arguments.
    const poles = Float64Array.from({ length: 18 }, (_, k) => {
      const [a, b, c] = knots.subarray(Math.floor(k / 3) + 1);
      return [a * b * c, (a + b + c) / 3, 5][k % 3];
    });
    const out = new Float64Array(CURVE_PLACE_SIZE);
    for (const t of [-1, -0.2, 0.3, 0.4, 0.5, 1.7, 2]) {
      bsplineCurveAt({ degree: 3, knots, poles }, t, out);
      expect(out[0]).toBeCloseTo(t ** 3, 13);
      expect(out[1]).toBeCloseTo(t, 14);
      expect(out[3]).toBeCloseTo(3 * t * t, 12);
      expect([out[4], out[5]]).toEqual([expect.closeTo(1, 13), expect.closeTo(0, 13)]);
    }
  });

  test('spans are found inside the domain, also of unclamped knots', () => {
    const knots = Float64Array.of(-2, -1, 0, 1, 1, 2, 3, 4);
    expect([-5, 0, 0.9, 1, 1.5, 2, 9].map((t) => bsplineSpan(knots, 2, t))).toEqual([2, 2, 2, 4, 4, 4, 4]);
  });
});

describe('surface', () => {
  const out = new Float64Array(SURFACE_PLACE_SIZE);

  test('a ruled patch between two lines is bilinear', () => {
    const surface: BsplineSurface = {
      degreeU: 1,
      degreeV: 1,
      knotsU: Float64Array.of(0, 0, 2, 2),
      knotsV: Float64Array.of(0, 0, 5, 5),
      countU: 2,
      countV: 2,
      poles: Float64Array.of(0, 0, 0, 4, 0, 0, 0, 0, 10, 4, 6, 10),
    };
    for (const [u, v] of [
      [0, 0],
      [0.5, 1],
      [2, 5],
    ]) {
      bsplineSurfaceAt(surface, u, v, out);
      const s = u / 2;
      const t = v / 5;
      const expected = [4 * s, 6 * s * t, 10 * t, 2, 3 * t, 0, 0, (6 * s) / 5, 2];
      expected.forEach((value, k) => {
        expect(out[k]).toBeCloseTo(value, 14);
      });
    }
  });

  test('a rational cone has its radius at every height, and its curves of constant v are circles', () => {
    const [low, high] = [circle(3, 0), circle(1, 8)];
    const surface: BsplineSurface = {
      degreeU: 2,
      degreeV: 1,
      knotsU: low.knots,
      knotsV: Float64Array.of(0, 0, 1, 1),
      countU: 9,
      countV: 2,
      poles: Float64Array.of(...low.poles, ...high.poles),
      weights: Float64Array.of(...low.weights!, ...high.weights!),
    };
    const on = new Float64Array(CURVE_PLACE_SIZE);
    for (const v of [0, 0.25, 1]) {
      const iso = bsplineIsoCurve(surface, v);
      for (const u of [0, 0.7, 1, 3.2, 4]) {
        bsplineSurfaceAt(surface, u, v, out);
        expect(Math.hypot(out[0], out[1])).toBeCloseTo(3 - 2 * v, 13);
        expect(out[2]).toBeCloseTo(8 * v, 13);
        // Along v the surface runs straight to the apex.
        expect(out[6]).toBeCloseTo((-2 * out[0]) / (3 - 2 * v), 13);
        expect(out[8]).toBeCloseTo(8, 13);
        bsplineCurveAt(iso, u, on);
        for (let k = 0; k < 6; k++) expect(on[k]).toBeCloseTo(out[k], 13);
      }
    }
  });
});
