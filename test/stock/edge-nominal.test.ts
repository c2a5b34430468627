import { describe, expect, test } from 'vitest';
import { edgeChecks } from '../../src/stock/edge-checks.ts';
import { type EdgeEvaluate, type EdgeJunction, EXACT, type NoseLine } from '../../src/stock/edge-curve.ts';
import { type BlankNose, mappedEdge, type NominalEdge } from '../../src/stock/edge-nominal.ts';

const LINE: NoseLine = { x: 0, y: 0, inX: 1, inY: 0 };
const [A, B] = [0.9, 0.3];
/** Half of an ellipse by its angle from the suction side (top) over the nose at x = 0. */
const evaluate: EdgeEvaluate = (v, out) => {
  const [c, s] = [Math.cos(v), Math.sin(v)];
  out.set([A + A * c, B * s, -A * s, B * c, -A * c, -B * s, A * s, -B * c]);
};
const nominal: NominalEdge = {
  evaluate,
  from: Math.PI / 2,
  to: 1.5 * Math.PI,
  noseAt: Math.PI,
  line: LINE,
  camber: { x: 1, y: 0 },
};
const junction = (x: number, y: number, slope: number): EdgeJunction => ({
  x,
  y,
  tangentX: -1 / Math.hypot(1, slope),
  tangentY: -slope / Math.hypot(1, slope),
  curvature: 0,
  setback: x,
  u: EXACT,
});
/** Half width and its slope at a depth. */
const half = (x: number) => (B / A) * Math.sqrt(x * (2 * A - x));
const rise = (x: number) => ((B / A) ** 2 * (A - x)) / half(x);
const at = (x: number, scale: number, lean: number, side: 1 | -1) =>
  junction(x, side * scale * half(x) + lean * x, side * scale * rise(x) + lean);
const home: BlankNose = { line: LINE, nose: { x: 0, y: 0 }, camber: { x: 1, y: 0 } };
const made = (blank: BlankNose, ends: [EdgeJunction, EdgeJunction]) => {
  const found = mappedEdge(nominal, blank, ends);
  if (typeof found === 'string') throw new Error(found);
  return found;
};

describe('nominal edge on a blank', () => {
  test('on its own flanks it is itself', () => {
    const found = made(home, [at(0.7, 1, 0, 1), at(0.6, 1, 0, -1)]);
    expect(found.scale).toBeCloseTo(1, 12);
    for (const k of [0, 1]) {
      expect(found.offset[k]).toBeCloseTo(0, 12);
      expect(found.slope[k]).toBeCloseTo(0, 12);
    }
    expect(found.curve.noseRadius).toBeCloseTo(B ** 2 / A, 12);
    for (let i = 0; i < found.curve.at.length; i++) {
      const [x, y] = found.curve.points.subarray(2 * i, 2 * i + 2);
      expect(((x - A) / A) ** 2 + (y / B) ** 2).toBeCloseTo(1, 12);
    }
  });

  test('thicker and leaning, it is the scaled and sheared ellipse, moved and turned with its nose line', () => {
    const [scale, lean, turn] = [1.2, 0.1, 0.4];
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const spin = (x: number, y: number) => ({ x: c * x - s * y, y: s * x + c * y });
    const move = (j: EdgeJunction): EdgeJunction => {
      const place = spin(j.x, j.y);
      const tangent = spin(j.tangentX, j.tangentY);
      return { ...j, x: place.x + 5, y: place.y - 2, tangentX: tangent.x, tangentY: tangent.y };
    };
    const blank: BlankNose = {
      line: { x: 5, y: -2, inX: c, inY: s },
      nose: { x: 5, y: -2 },
      camber: spin(1, lean),
    };
    const found = made(blank, [move(at(0.7, scale, lean, 1)), move(at(0.7, scale, lean, -1))]);
    expect(found.scale).toBeCloseTo(scale, 12);
    expect(found.curve.noseRadius).toBeCloseTo((scale * B) ** 2 / A, 12);
    const checks = edgeChecks(found.curve);
    expect(checks.curvatureTurns).toEqual([0, 0]);
    expect(checks.beyondLine).toBeLessThan(1e-12);
  });

  test('a mismatch is made up: it meets both flanks and keeps nose, nose radius and derivatives', () => {
    const [first, second] = [at(0.7, 1, 0, 1), at(0.6, 1, 0, -1)];
    const ends: [EdgeJunction, EdgeJunction] = [
      junction(0.7, first.y + 0.01, first.tangentY / first.tangentX + 0.02),
      junction(0.6, second.y + 0.004, second.tangentY / second.tangentX + 0.01),
    ];
    const { curve, offset } = made(home, ends);
    expect(offset[0]).not.toBeCloseTo(0, 4);
    const checks = edgeChecks(curve);
    for (const k of [0, 1]) {
      expect(checks.gap[k]).toBeLessThan(1e-12);
      expect(checks.tangentBreak[k]).toBeLessThan(1e-12);
    }
    const scale = (ends[0].y - ends[1].y) / (first.y - second.y);
    expect(curve.noseRadius).toBeCloseTo((scale * B) ** 2 / A, 12);
    expect(curve.nose.x).toBeCloseTo(0, 12);
    expect(curve.nose.y).toBeCloseTo(0, 12);
    const [now, before, after] = [new Float64Array(8), new Float64Array(8), new Float64Array(8)];
    for (const t of [0.1, 0.3, 0.8]) {
      curve.evaluate(t, now);
      curve.evaluate(t - 1e-5, before);
      curve.evaluate(t + 1e-5, after);
      for (let k = 0; k < 6; k++) expect((after[k] - before[k]) / 2e-5).toBeCloseTo(now[k + 2], 5);
    }
  });

  test('tells why it cannot be', () => {
    expect(mappedEdge(nominal, home, [at(0.7, 1, 0, 1), junction(1.2, -0.3, 0)])).toBe('nominal-too-short');
    expect(mappedEdge(nominal, home, [at(0.7, 1, 0, -1), at(0.7, 1, 0, 1)])).toBe('flanks-cross');
  });
});
