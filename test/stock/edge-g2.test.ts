import { describe, expect, test } from 'vitest';
import { type EdgeConic, edgeConic } from '../../src/stock/edge-conic.ts';
import { curvatureRate, distanceInside, type EdgeJunction, signedCurvature } from '../../src/stock/edge-curve.ts';
import { wedgeEllipse } from '../../src/stock/edge-ellipse.ts';
import { type SmoothEdgeOptions, smoothEdge } from '../../src/stock/edge-g2.ts';
import { DEG, H0, junction, LINE, SLOPE } from './edge-parts.ts';

const made = (junctions: [EdgeJunction, EdgeJunction], options: SmoothEdgeOptions = {}, line = LINE) => {
  const conic = edgeConic(...junctions, line) as EdgeConic;
  const found = smoothEdge(junctions, line, conic, options);
  if (!found) throw new Error('none found');
  return found;
};
const x = wedgeEllipse(3, 5 * DEG, H0)!.setback;
const even: [EdgeJunction, EdgeJunction] = [
  junction(x, H0 + x * SLOPE, 185, 0.01),
  junction(x, -H0 - x * SLOPE, 175, 0.01),
];
const uneven: [EdgeJunction, EdgeJunction] = [junction(0.6, 0.3, 187, 0.02), junction(0.55, -0.26, 172, -0.01)];

describe('edge of least change of curvature', () => {
  test.each([
    ['even', even, {}],
    ['uneven', uneven, {}],
    ['the other way round', [uneven[1], uneven[0]], {}],
    ['nose held', uneven, { noseAlong: -0.01 }],
    ['thickness held', even, { thickness: { setback: 0.25, value: 0.46 } }],
  ] as [string, [EdgeJunction, EdgeJunction], SmoothEdgeOptions][])(
    '%s: place, tangent and curvature at the ends, touching the line',
    (_, ends, wish) => {
      const { curve } = made(ends, wish);
      const out = new Float64Array(8);
      for (const [t, end, way] of [
        [0, ends[0], 1],
        [1, ends[1], -1],
      ] as const) {
        curve.evaluate(t, out);
        expect(out[0]).toBeCloseTo(end.x, 9);
        expect(out[1]).toBeCloseTo(end.y, 9);
        expect((way * out[2]) / Math.hypot(out[2], out[3])).toBeCloseTo(end.tangentX, 9);
        expect((way * out[3]) / Math.hypot(out[2], out[3])).toBeCloseTo(end.tangentY, 9);
        expect(curve.turn * signedCurvature(out)).toBeCloseTo(end.curvature, 9);
      }
      expect(distanceInside(LINE, curve.nose.x, curve.nose.y)).toBeCloseTo(0, 9);
      for (let i = 0; i < curve.at.length; i++) expect(curve.points[2 * i]).toBeGreaterThan(-1e-9);
      if (wish.noseAlong !== undefined) expect(-curve.turn * curve.nose.y).toBeCloseTo(wish.noseAlong, 9);
      if (wish.thickness) {
        const width = (side: number) => {
          let [a, b] = side > 0 ? [0, curve.nose.t] : [1, curve.nose.t];
          for (let k = 0; k < 60; k++) {
            curve.evaluate(0.5 * (a + b), out);
            if (out[0] > wish.thickness!.setback) a = 0.5 * (a + b);
            else b = 0.5 * (a + b);
          }
          return side * out[1];
        };
        expect(width(1) + width(-1)).toBeCloseTo(wish.thickness.value, 9);
      }
    },
  );

  test('derivatives agree with differences', () => {
    const { curve } = made(uneven);
    const [at, before, after] = [new Float64Array(8), new Float64Array(8), new Float64Array(8)];
    for (const t of [0.13, 0.41, 0.77]) {
      curve.evaluate(t, at);
      curve.evaluate(t - 1e-5, before);
      curve.evaluate(t + 1e-5, after);
      for (let k = 0; k < 6; k++) expect((after[k] - before[k]) / 2e-5 / 100).toBeCloseTo(at[k + 2] / 100, 5);
    }
  });

  test('its energy is the integral, and less than with fewer spans or a wish more', () => {
    const { curve, energy, length } = made(even);
    const out = new Float64Array(8);
    let sum = 0;
    const steps = 4000;
    for (let i = 0; i < steps; i++) {
      curve.evaluate((i + 0.5) / steps, out);
      sum += (curvatureRate(out) ** 2 * length) / steps;
    }
    expect(sum / energy).toBeCloseTo(1, 4);
    expect(energy).toBeLessThanOrEqual(made(even, { spans: 8 }).energy * (1 + 1e-9));
    expect(energy).toBeLessThan(made(even, { thickness: { setback: 0.25, value: 0.46 } }).energy);
  });

  test('a circle whose flanks bend like it stays a circle', () => {
    const r = 0.3;
    const on = (degrees: number, tangent: number) =>
      junction(r + r * Math.cos(degrees * DEG), r * Math.sin(degrees * DEG), tangent, 1 / r);
    const { curve, energy } = made([on(95, 185), on(-95, 175)]);
    expect(energy).toBeLessThan(1e-10);
    for (const k of curve.curvature) expect(k).toBeCloseTo(1 / r, 6);
  });

  test('curvature rises from either flank to the nose', () => {
    const at = 0.42;
    const y = H0 + at * SLOPE;
    const { curve } = made([junction(at, y, 185, 0.01), junction(at, -y, 175, 0.01)]);
    const out = new Float64Array(8);
    for (let i = 0; i <= 200; i++) {
      curve.evaluate(i / 200, out);
      if (Math.abs(i - 100) > 1) expect(curve.turn * curvatureRate(out) * Math.sign(100 - i)).toBeGreaterThan(0);
    }
  });
});
