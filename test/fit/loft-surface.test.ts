import { describe, expect, test } from 'vitest';
import { makeScan } from '../../samples/scan.ts';
import { chordParameters, interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { type LoftSection, loftSurface } from '../../src/fit/loft-surface.ts';
import { mortonOrder } from '../../src/spatial/morton-order.ts';
import { emptyFeet, nominalFeet } from '../../src/spatial/nominal-feet.ts';
import { makeNominalTarget } from '../../src/spatial/nominal-target.ts';
import { alongAt, evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';
import { exactLoft } from '../support/exact-nominal.ts';

describe('loftSurface', () => {
  test('points of the exact blade lie on the loft, between its sections too', () => {
    const target = makeNominalTarget(loftSurface(exactLoft(21, 400)));
    const { positions } = makeScan({ points: 20_000, seed: 3 }).cloud;
    const feet = emptyFeet(positions.length / 3);
    const order = mortonOrder(positions);
    nominalFeet(target, positions, order, 0, order.length, feet);
    let most = 0;
    let sum = 0;
    let used = 0;
    for (let i = 0; i < order.length; i++) {
      if (feet.border[i] !== 0) continue;
      most = Math.max(most, Math.abs(feet.deviation[i]));
      sum += feet.deviation[i] ** 2;
      used++;
    }
    expect(used).toBeGreaterThan(0.99 * order.length);
    expect(most).toBeLessThan(6e-5);
    expect(Math.sqrt(sum / used)).toBeLessThan(2e-6);
  });

  test('a point offset along the normal is found again at its place and distance, either side', () => {
    const surface = loftSurface(exactLoft(9, 400));
    const target = makeNominalTarget(surface);
    const place = new Float64Array(PLACE_SIZE);
    const [uMin, uMax] = [surface.columns[0], surface.columns[surface.columns.length - 1]];
    const points: number[] = [];
    const wanted: number[][] = [];
    for (let i = 0; i < 400; i++) {
      const u = uMin + ((i + 0.5) / 400) * (uMax - uMin);
      const z = 3 + ((i * 37) % 114);
      const distance = i % 2 === 0 ? 0.2 : -0.15;
      evaluateSurface(surface, u, z, place);
      const n = [place[4], -place[3], place[3] * place[7] - place[4] * place[6]];
      const size = Math.hypot(...n);
      points.push(...[0, 1, 2].map((k) => place[k] + (distance * n[k]) / size));
      wanted.push([u, z, distance]);
    }
    const feet = emptyFeet(wanted.length);
    nominalFeet(target, Float64Array.from(points), null, 0, wanted.length, feet);
    wanted.forEach(([u, z, distance], i) => {
      expect(feet.u[i]).toBeCloseTo(u, 7);
      expect(feet.height[i]).toBeCloseTo(z, 7);
      expect(feet.deviation[i]).toBeCloseTo(distance, 10);
    });
  });

  test('two twisted sections keep their chord at mid-span, where a straight-line loft would shrink it', () => {
    const ellipse = (angle: number): Float64Array => {
      const points = new Float64Array(400);
      for (let i = 0; i < 200; i++) {
        const t = (2 * Math.PI * i) / 200 + Math.PI;
        const [x, y] = [20 * Math.cos(t), 2 * Math.sin(t)];
        points[2 * i] = Math.cos(angle) * x - Math.sin(angle) * y;
        points[2 * i + 1] = Math.sin(angle) * x + Math.cos(angle) * y;
      }
      return points;
    };
    const sections = [0, 0.5].map((angle, i): LoftSection => {
      const points = ellipse(angle);
      const { at } = chordParameters(points);
      const edges = { leading: at[0], trailing: at[100], firstSide: 'pressure' as const };
      return { id: `${i}`, height: 50 * i, outline: interpolateOutline(points), edges };
    });
    const surface = loftSurface(sections);
    const leading = new Float64Array(PLACE_SIZE);
    const trailing = new Float64Array(PLACE_SIZE);
    evaluateSurface(surface, 0, 25, leading);
    evaluateSurface(surface, surface.columns[surface.columns.length - 1], 25, trailing);
    expect(Math.hypot(trailing[0] - leading[0], trailing[1] - leading[1])).toBeCloseTo(40, 6);
    expect(Math.atan2(trailing[1] - leading[1], trailing[0] - leading[0])).toBeCloseTo(0.25, 9);
    expect(alongAt(surface, surface.columns[0], 25)).toBeCloseTo(-81.27948402 / 2, 2);
  });
});
