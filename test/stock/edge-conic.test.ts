import { describe, expect, test } from 'vitest';
import { conicCurve, type EdgeConic, edgeConic } from '../../src/stock/edge-conic.ts';
import { curvatureRate, distanceInside, type EdgeJunction, signedCurvature } from '../../src/stock/edge-curve.ts';
import { junction, LINE } from './edge-parts.ts';

const upper = junction(2, 0.4, 185);
const lower = junction(2, -0.4, 175);
const made = (first: EdgeJunction, second: EdgeJunction, line = LINE): EdgeConic => {
  const conic = edgeConic(first, second, line);
  if (typeof conic === 'string') throw new Error(conic);
  return conic;
};

describe('conic from junctions and nose line', () => {
  test('junctions 2 mm back on a wedge of 5° make a needle', () => {
    const conic = made(upper, lower);
    expect(conic.apexX).toBeCloseTo(-2.572021, 6);
    expect(conic.apexY).toBeCloseTo(0, 12);
    expect(conic.weight).toBeCloseTo(0.777599, 6);
    expect(conic.noseRadius).toBeCloseTo(0.045005, 6);
    expect(conic.ratio).toBeCloseTo(14.1, 1);
    expect(conic.kind).toBe('ellipse');
  });

  test('curvature at the shoulder by subdivision is that of the nose when symmetric', () => {
    const { apexX, weight: w, noseRadius } = made(upper, lower);
    const shoulder = (2 + 2 * w * apexX + 2) / (2 * (1 + w));
    const qx = (2 + w * apexX) / (1 + w);
    const qy = 0.4 / (1 + w);
    const area = 0.5 * Math.abs((qx - 2) * (0 - 0.4) - (qy - 0.4) * (shoulder - 2));
    const ws = Math.sqrt((1 + w) / 2);
    expect(shoulder).toBeCloseTo(0, 12);
    expect(area / (ws ** 2 * Math.hypot(qx - shoulder, qy) ** 3)).toBeCloseTo(1 / noseRadius, 9);
  });

  test.each([
    ['even', upper, lower],
    ['uneven', junction(1.1, 0.45, 192), junction(0.7, -0.3, 171)],
    ['hyperbola', junction(2, 0.4, 190), junction(2, -0.4, 170)],
  ])('%s: tangent at its ends and at the nose line, curvatures as differentiated', (_, first, second) => {
    const conic = made(first, second);
    const out = new Float64Array(8);
    const curve = conicCurve(conic, [first, second], LINE);
    expect(curve.tangentsIn[0]).toBeCloseTo(first.tangentX, 12);
    expect(curve.tangentsIn[1]).toBeCloseTo(first.tangentY, 12);
    expect(curve.tangentsOut[0]).toBeCloseTo(-second.tangentX, 12);
    expect(curve.tangentsOut[1]).toBeCloseTo(-second.tangentY, 12);
    conic.evaluate(0, out);
    expect(Math.abs(signedCurvature(out))).toBeCloseTo(conic.endCurvature[0], 12);
    conic.evaluate(1, out);
    expect(Math.abs(signedCurvature(out))).toBeCloseTo(conic.endCurvature[1], 12);
    conic.evaluate(conic.noseAt, out);
    expect(distanceInside(LINE, out[0], out[1])).toBeCloseTo(0, 13);
    expect(out[2] / Math.hypot(out[2], out[3])).toBeCloseTo(0, 12);
    for (let i = 0; i < curve.at.length; i++) expect(curve.points[2 * i]).toBeGreaterThan(-1e-12);
  });

  test('derivatives agree with differences', () => {
    const { evaluate } = made(junction(1.1, 0.45, 192), junction(0.7, -0.3, 171));
    const [at, before, after] = [new Float64Array(8), new Float64Array(8), new Float64Array(8)];
    const h = 1e-5;
    for (const t of [0.1, 0.45, 0.8]) {
      evaluate(t, at);
      evaluate(t - h, before);
      evaluate(t + h, after);
      for (let k = 0; k < 6; k++) expect((after[k] - before[k]) / (2 * h)).toBeCloseTo(at[k + 2], 5);
      const rate = (signedCurvature(after) - signedCurvature(before)) / (2 * h) / Math.hypot(at[2], at[3]);
      expect(curvatureRate(at)).toBeCloseTo(rate, 5);
    }
  });

  test('an ellipse off its axes has R = half width / ratio', () => {
    // x = depth + a cos v, y = shear (x) + b sin v, sheared along the nose line: width and depth stay.
    const [a, b, shear] = [0.9, 0.3, 0.2];
    const at = (v: number): EdgeJunction => {
      const [x, dx, dy] = [a + a * Math.cos(v), -a * Math.sin(v), b * Math.cos(v)];
      const [tx, ty] = [dx, dy + shear * dx];
      const sign = (tx < 0 ? 1 : -1) / Math.hypot(tx, ty);
      return { ...junction(x, b * Math.sin(v) + shear * x, 0), tangentX: sign * tx, tangentY: sign * ty };
    };
    const conic = made(at(2), at(-2.3));
    expect(conic.ratio).toBeCloseTo(3, 12);
    expect(conic.noseRadius).toBeCloseTo(b / 3, 12);
    expect(conic.axis!.y / conic.axis!.x).toBeCloseTo(shear, 12);
  });

  test('refuses where the apex is not beyond the line', () => {
    expect(edgeConic(junction(2, 0.4, 215), junction(2, -0.4, 145), LINE)).toBe('apex-inside');
    expect(edgeConic(junction(2, 0.4, 175), junction(2, -0.4, 185), LINE)).toBe('apex-inside');
    expect(edgeConic(junction(2, 0.4, 180), junction(2, -0.4, 180), LINE)).toBe('tangents-parallel');
    expect(edgeConic(junction(-0.1, 0.4, 185), junction(2, -0.4, 175), LINE)).toBe('junction-beyond');
  });
});
