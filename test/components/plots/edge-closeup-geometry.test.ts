import { describe, expect, it } from 'vitest';
import {
  closeUp,
  edgeDirection,
  fittedCurve,
  nearNose,
  residualStrip,
} from '../../../components/plots/edge-closeup-geometry.ts';
import type { EdgeTrace } from '../../../src/redefine.ts';

const DEG = Math.PI / 180;
const BOX = { x: 0, y: 0, width: 160, height: 160 };

/** Points at a constant distance outside a circle, its edge pointing in a direction; normals −100 … 100 degrees. */
function roundEdge(radius: number, directionDeg: number, residual = 0): EdgeTrace {
  const angleDeg = Array.from({ length: 201 }, (_, i) => i - 100);
  const at = angleDeg.map((deg) => (deg + directionDeg) * DEG);
  return {
    angleDeg,
    residual: angleDeg.map(() => residual),
    x: at.map((a) => 7 + (radius + residual) * Math.cos(a)),
    y: at.map((a) => -3 + (radius + residual) * Math.sin(a)),
  };
}
const circle = (value: number) => ({ value, evidence: { centreX: 7, centreY: -3 } });
const coordinates = (path: string): number[][] =>
  [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])]);

describe('close-up of an edge', () => {
  it.each([0, 137, 180, 259])('finds the direction of an edge at %d°', (directionDeg) => {
    const found = edgeDirection(roundEdge(0.3, directionDeg)) / DEG;
    expect(Math.abs(((found - directionDeg + 540) % 360) - 180)).toBeLessThan(1e-9);
  });

  it('draws the fitted circle through points that have no residual, at true scale', () => {
    const trace = roundEdge(0.3, 180);
    const picture = closeUp(trace, circle(0.3), 60, BOX)!;
    const fitted = coordinates(picture.fittedInRange);
    const radius = 0.3 * picture.pxPerMm;
    const nose = picture.points[100];
    for (const [x, y] of fitted)
      expect(Math.abs(Math.hypot(x - nose.x - radius, y - nose.y) - radius)).toBeLessThan(0.02);
    const [first, last] = [fitted[0], fitted[fitted.length - 1]];
    expect(Math.abs(Math.hypot(first[0] - last[0], first[1] - last[1]) - 2 * radius * Math.sin(60 * DEG))).toBeLessThan(
      0.03,
    );
    expect(picture.points.filter((p) => p.inRange)).toHaveLength(121);
  });

  it('places an ellipse by its nose, axis and half axes', () => {
    const value = { value: 1 / 3, evidence: { noseX: -3, noseY: 0, axisDeg: 0, a: 3, b: 1 } };
    const curve = fittedCurve(value)!;
    expect(curve.x).toBeCloseTo(0, 12);
    expect([curve.a, curve.b]).toEqual([3, 1]);
    const angleDeg = Array.from({ length: 161 }, (_, i) => i - 80);
    const at = angleDeg.map((deg) => {
      const [c, s] = [Math.cos(deg * DEG), Math.sin(deg * DEG)];
      const scale = Math.hypot(3 * c, s);
      return [(-9 * c) / scale, -s / scale];
    });
    const trace = { angleDeg, residual: angleDeg.map(() => 0), x: at.map((p) => p[0]), y: at.map((p) => p[1]) };
    const picture = closeUp(trace, value, 80, BOX)!;
    const [first] = coordinates(picture.fittedInRange);
    const nearest = Math.min(...picture.points.map((p) => Math.hypot(p.x - first[0], p.y - first[1])));
    expect(nearest).toBeLessThan(0.05);
  });

  it('draws no curve for a value that describes none', () => {
    expect(fittedCurve({ value: 0.3, evidence: { points: 12 } })).toBeNull();
    expect(closeUp(roundEdge(0.3, 0), { value: 0.3 }, null, BOX)!.fitted).toBe('');
  });

  it('leaves out a hollow flank, along which the normal turns back', () => {
    const edge = roundEdge(0.3, 0);
    const flank = Array.from({ length: 50 }, (_, i) => 99 - i);
    const trace = {
      angleDeg: [...edge.angleDeg, ...flank],
      residual: [...edge.residual, ...flank.map(() => 1)],
      x: [...edge.x, ...flank.map((_, i) => i)],
      y: [...edge.y, ...flank.map(() => 9)],
    };
    const near = nearNose(trace, 100);
    expect(near.angleDeg[0]).toBe(-100);
    expect(Math.min(...near.angleDeg.slice(101))).toBeGreaterThanOrEqual(1);
    expect(near.angleDeg.length).toBeLessThanOrEqual(edge.angleDeg.length + 4);
  });

  it('lays residuals over the angle, with the range and its inverse', () => {
    const trace = roundEdge(0.3, 0, 0.002);
    const strip = residualStrip(trace, 45, BOX);
    expect(strip.x.invert(strip.range![1])).toBeCloseTo(45, 9);
    expect(strip.x.invert(strip.range![0])).toBeCloseTo(-45, 9);
    expect(strip.points.every((p) => p.y < strip.zero)).toBe(true);
    expect(residualStrip(trace, null, BOX).range).toBeNull();
  });
});
