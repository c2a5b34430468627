import { describe, expect, test } from 'vitest';
import { conicCurve } from '../../src/stock/edge-conic.ts';
import type { EdgeJunction, NoseLine } from '../../src/stock/edge-curve.ts';
import { EXACT, signedCurvature } from '../../src/stock/edge-curve.ts';
import { type Flank, flankEllipse, type NoseHold, wedgeEllipse } from '../../src/stock/edge-ellipse.ts';

const DEG = Math.PI / 180;
/** The flanks of half thickness 0.4 at 2 mm, carried to the nose line: 0.225023. */
const H0 = 0.4 - 2 * Math.tan(5 * DEG);
const LINE: NoseLine = { x: 0, y: 0, inX: 1, inY: 0 };
const REACH = { least: 0.01, most: 3 };

/** Flank y(x) = y0 + slope x + half bend x². */
const flank =
  (y0: number, slope: number, bend = 0): Flank =>
  (x) => {
    const steep = slope + bend * x;
    const size = Math.hypot(1, steep);
    const curvature = (Math.sign(y0) * -bend) / size ** 3;
    const at: EdgeJunction = {
      x,
      y: y0 + slope * x + 0.5 * bend * x * x,
      tangentX: -1 / size,
      tangentY: -steep / size,
      curvature,
      setback: x,
      u: EXACT,
    };
    return at;
  };
const solved = (a: Flank, b: Flank, ratio: number, hold: NoseHold, line = LINE, reach = REACH) => {
  const found = flankEllipse(a, b, line, ratio, hold, reach);
  if (typeof found === 'string') throw new Error(found);
  return found;
};

describe('ellipse on a wedge', () => {
  test.each([
    [1, 0.224166, 0.245569],
    [2, 0.44331, 0.133908],
    [3, 0.652952, 0.097235],
    [4, 0.84957, 0.079288],
  ])('ratio %d: set-back %d and nose radius %d', (k, setback, radius) => {
    const found = wedgeEllipse(k, 5 * DEG, H0)!;
    expect(found.setback).toBeCloseTo(setback, 6);
    expect(found.noseRadius).toBeCloseTo(radius, 6);
    // On the flank, on the ellipse, and tangent there.
    const { a, b, halfThickness: h } = found;
    const x = a - found.setback;
    expect((x / a) ** 2 + (h / b) ** 2).toBeCloseTo(1, 12);
    expect((b * b * x) / (a * a * h)).toBeCloseTo(Math.tan(5 * DEG), 12);
  });

  test('ratio 3: half axes and end curvature', () => {
    const found = wedgeEllipse(3, 5 * DEG, H0)!;
    expect(found.b).toBeCloseTo(0.291705, 6);
    expect(found.a).toBeCloseTo(0.875115, 6);
    expect(found.endCurvature).toBeCloseTo(0.416145, 6);
  });

  test('no ellipse where the flanks cross before the nose line', () => {
    expect(wedgeEllipse(3, 5 * DEG, -0.1)).toBeNull();
  });
});

describe('ellipse between flanks', () => {
  const slope = Math.tan(5 * DEG);

  test.each([1, 2, 3, 4])('ratio %d on a wedge is the closed form', (k) => {
    const closed = wedgeEllipse(k, 5 * DEG, H0)!;
    const found = solved(flank(H0, slope), flank(-H0, -slope), k, { axis: { x: 1, y: 0 } });
    for (const j of found.junctions) expect(j.setback).toBeCloseTo(closed.setback, 10);
    expect(found.conic.noseRadius).toBeCloseTo(closed.noseRadius, 10);
    expect(found.conic.endCurvature[0]).toBeCloseTo(closed.endCurvature, 10);
    expect(found.conic.nose.y).toBeCloseTo(0, 10);
  });

  test('a sheared wedge has the same set-backs and its nose in the middle', () => {
    const closed = wedgeEllipse(3, 5 * DEG, H0)!;
    const found = solved(flank(H0, slope + 0.3), flank(-H0, -slope + 0.3), 3, { at: { x: 0, y: 0 } });
    for (const j of found.junctions) expect(j.setback).toBeCloseTo(closed.setback, 10);
  });

  test('a circle between unlike flanks is a circle', () => {
    const found = solved(flank(0.3, 0.05, -0.03), flank(-0.2, -0.11, 0.02), 1, { axis: { x: 1, y: 0 } });
    const curve = conicCurve(found.conic, found.junctions, LINE, 'circle');
    const mean = curve.curvature.reduce((sum, k) => sum + k, 0) / curve.curvature.length;
    for (const k of curve.curvature) expect(k).toBeCloseTo(mean, 8);
    expect(found.junctions[0].setback).not.toBeCloseTo(found.junctions[1].setback, 2);
  });

  test('bent flanks: ratio, place and tangency hold in a turned frame', () => {
    const c = Math.cos(0.7);
    const s = Math.sin(0.7);
    const turned =
      (of: Flank): Flank =>
      (d) => {
        const j = of(d)!;
        const turn = (x: number, y: number) => [c * x - s * y, s * x + c * y] as const;
        const [x, y] = turn(j.x, j.y);
        const [tangentX, tangentY] = turn(j.tangentX, j.tangentY);
        return { ...j, x, y, tangentX, tangentY };
      };
    const line: NoseLine = { x: 0, y: 0, inX: c, inY: s };
    const nose = { x: -s * 0.02, y: c * 0.02 };
    const found = solved(turned(flank(0.3, 0.05, -0.03)), turned(flank(-0.25, -0.09, 0.02)), 2, { at: nose }, line);
    expect(found.conic.ratio).toBeCloseTo(2, 10);
    expect(found.conic.nose.x).toBeCloseTo(nose.x, 10);
    expect(found.conic.nose.y).toBeCloseTo(nose.y, 10);
    const out = new Float64Array(8);
    found.conic.evaluate(0, out);
    const j = found.junctions[0];
    expect((out[2] * j.tangentY - out[3] * j.tangentX) / Math.hypot(out[2], out[3])).toBeCloseTo(0, 12);
    expect(Math.abs(signedCurvature(out))).toBeCloseTo(found.conic.endCurvature[0], 12);
  });

  test('tells why there is none', () => {
    const axis = { axis: { x: 1, y: 0 } };
    expect(flankEllipse(flank(-0.01, slope), flank(0.01, -slope), LINE, 3, axis, REACH)).toBe('flanks-cross');
    expect(flankEllipse(flank(H0, -slope), flank(-H0, slope), LINE, 3, axis, REACH)).toBe('flanks-not-closing');
    const [a, b] = [flank(H0, slope), flank(-H0, -slope)];
    expect(flankEllipse(a, b, LINE, 3, axis, { least: 0.01, most: 0.5 })).toBe('setback-most');
    expect(flankEllipse(a, b, LINE, 1, axis, { least: 0.5, most: 2 })).toBe('setback-least');
  });
});
