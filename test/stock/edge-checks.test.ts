import { describe, expect, test } from 'vitest';
import { conicCurve, type EdgeConic, edgeConic } from '../../src/stock/edge-conic.ts';
import type { EdgeJunction, NoseLine } from '../../src/stock/edge-curve.ts';
import { wedgeEllipse } from '../../src/stock/edge-ellipse.ts';
import { smoothEdge } from '../../src/stock/edge-g2.ts';
import { chordOfEdges, edgeChecks, edgeWidth } from '../support/edge-checks.ts';
import { DEG, H0, junction, LINE, SLOPE } from './edge-parts.ts';

const ends = (x: number, curvature = 0): [EdgeJunction, EdgeJunction] => [
  junction(x, H0 + x * SLOPE, 185, curvature),
  junction(x, -H0 - x * SLOPE, 175, curvature),
];
const wedge = wedgeEllipse(3, 5 * DEG, H0)!;
const ellipse = ends(wedge.setback);
const conic = edgeConic(...ellipse, LINE) as EdgeConic;
const curve = conicCurve(conic, ellipse, LINE);

describe('checks of an edge', () => {
  test('an ellipse of ratio 3: tangent, monotone, with the closed form’s step of curvature and width', () => {
    const checks = edgeChecks(curve, {
      camber: { x: 2, y: 0.08, directionX: -1, directionY: -0.03 },
      setbacks: [0.2, 0.5, 2],
    });
    for (const k of [0, 1]) {
      expect(checks.tangentBreak[k]).toBeLessThan(1e-12);
      expect(checks.gap[k]).toBeLessThan(1e-12);
      expect(checks.curvatureBreak[k]).toBeCloseTo(wedge.endCurvature, 10);
    }
    expect(checks.curvatureTurns).toEqual([0, 0]);
    expect(checks.leastCurvature).toBeCloseTo(wedge.endCurvature, 10);
    expect(checks.beyondLine).toBeLessThan(1e-12);
    expect(checks.noseOffCamber).toBeCloseTo(0.02, 10);
    for (const { setback, value } of checks.thickness.slice(0, 2))
      expect(value).toBeCloseTo(2 * wedge.b * Math.sqrt(1 - ((wedge.a - setback) / wedge.a) ** 2), 10);
    expect(checks.thickness[2].value).toBeNull();
  });

  test('flanks that do not fit are seen', () => {
    const turned = { ...curve, junctions: [{ ...junction(ellipse[0].x, ellipse[0].y + 0.01, 187) }, ellipse[1]] };
    const checks = edgeChecks(turned as typeof curve);
    expect(checks.tangentBreak[0]).toBeCloseTo(2 * DEG, 10);
    expect(checks.gap[0]).toBeCloseTo(0.01, 10);
  });

  test('a smooth edge is monotone from the right set-back and hollow from too far away', () => {
    const smooth = (x: number) => {
      const at = ends(x, 0.01);
      return smoothEdge(at, LINE, edgeConic(...at, LINE) as EdgeConic)!.curve;
    };
    const good = edgeChecks(smooth(0.42));
    expect(good.curvatureTurns).toEqual([0, 0]);
    expect(good.leastCurvature).toBeCloseTo(0.01, 9);
    expect(Math.abs(good.curvatureBreak[0])).toBeLessThan(1e-9);
    const far = edgeChecks(smooth(1));
    expect(far.curvatureTurns[0]).toBeGreaterThan(0);
    expect(far.curvatureTurns[1]).toBe(far.curvatureTurns[0]);
    expect(far.leastCurvature).toBeLessThan(-0.1);
  });

  test('chord between two noses', () => {
    const far: NoseLine = { x: 40, y: 0, inX: -1, inY: 0 };
    const mirrored = ellipse.map((j) => ({ ...j, x: 40 - j.x, tangentX: -j.tangentX })) as typeof ellipse;
    const trailing = conicCurve(edgeConic(...mirrored, far) as EdgeConic, mirrored, far);
    expect(trailing.turn).toBe(-curve.turn);
    expect(chordOfEdges(curve, trailing, 1, 0)).toBeCloseTo(40, 12);
    expect(edgeWidth(trailing, 0.3)).toBeCloseTo(edgeWidth(curve, 0.3)!, 12);
  });
});
