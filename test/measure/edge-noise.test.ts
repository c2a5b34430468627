import { describe, expect, it } from 'vitest';
import type { EdgeName, Quantity } from '../../src/measure/definitions/definition.ts';
import type { Value } from '../../src/model/value.ts';
import { type AtEdge, edgesOf, noisySection, roundedPlate, spread } from './edge-shapes.ts';
import { CAMBERED, diskPoints, sectionOf } from './shapes.ts';

const SEEDS = 60;
const SIGMA = 0.002;
/**
 * Standard deviation over stated uncertainty: the stated one within 15 %, and what 60 runs may show by chance with a
 * likelihood of 99.9 %.
 */
const LEAST = 0.85 * 0.71;
const MOST = 1.15 * 1.31;

const exact = sectionOf(diskPoints(CAMBERED, 1400, 600));
const sampled = diskPoints(CAMBERED, 500, 200);
const runs = Array.from({ length: SEEDS }, (_, k) => edgesOf(noisySection(exact, sampled, SIGMA, k + 1)));
const truth = edgesOf(exact);

describe('uncertainty of edge measures with 2 µm noise', () => {
  const asked: [Quantity, string, Record<string, number>][] = [
    ['edge-radius', 'R-LSQ', {}],
    ['edge-radius', 'R-SB', {}],
    ['edge-radius', 'R-MIC', {}],
    ['edge-radius', 'E-AB', {}],
    ['edge-thickness', 'T-ORD', {}],
    ['edge-thickness', 'T-CAM', {}],
    ['edge-thickness', 'T-MIC', {}],
    ['edge-form', 'F-EDGE', {}],
    ['edge-form', 'ASYM', {}],
    ['edge-form', 'FLAT', {}],
    ['edge-form', 'NOSE-TILT', {}],
    ['edge-point-x', 'EP-CAM', {}],
    ['edge-point-y', 'EP-CAM', {}],
  ];
  const spreadOf = (edge: EdgeName, ask: (at: AtEdge) => Value) => ({
    edge,
    ...spread(runs.map(ask), ask(truth).value as number),
  });
  it.each(asked)('is right for %s %s', (quantity, id, parameters) => {
    for (const edge of ['leading', 'trailing'] as const) {
      const found = spreadOf(edge, (at) => at(edge, quantity, id, parameters, 1));
      expect(found.ratio, `${edge} ${found.sd}`).toBeGreaterThan(LEAST);
      expect(found.ratio, `${edge} ${found.sd}`).toBeLessThan(MOST);
    }
  });
  it('is cautious for the least radius, for the doubt between circle and conic', () => {
    for (const edge of ['leading', 'trailing'] as const) {
      const { ratio, bias } = spreadOf(edge, (at) => at(edge, 'edge-form', 'CORNER'));
      expect(ratio).toBeGreaterThan(0.5);
      expect(ratio).toBeLessThan(MOST);
      expect(Math.abs(bias)).toBeLessThan(0.6);
    }
  });
  it('is small for the radius of an edge: better than 1 µm for 200 points', () => {
    const value = runs[0]('leading', 'edge-radius', 'R-LSQ');
    expect(value.u).toBeLessThan(1e-3);
    expect(value.evidence?.points).toBeGreaterThan(100);
  });
});

describe('two corners with 2 µm noise', () => {
  const square = sectionOf(roundedPlate(0.4, 1400, 300, 200));
  const coarse = roundedPlate(0.4, 600, 60, 80);
  it('stay two, a right angle apart, with their radius', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const at = edgesOf(noisySection(square, coarse, SIGMA, seed));
      const apart = at('leading', 'edge-form', 'CORNERS-2');
      expect(Math.abs((apart.value as number) - 90)).toBeLessThan(Math.max(0.5, 4 * (apart.u as number)));
      const corner = at('leading', 'edge-form', 'CORNER');
      expect(Math.abs((corner.value as number) - 0.4)).toBeLessThan(4 * (corner.u as number));
      expect(corner.u).toBeLessThan(0.02);
    }
  });
});

describe('a flat end between two corners with 2 µm noise', () => {
  it.each([0.1, 0.4])('has an end circle of half the thickness: corners of %d mm', (corner) => {
    const exact = sectionOf(roundedPlate(corner, 1400, 300, 200));
    const sampled = roundedPlate(corner, 600, 60, 80);
    const plates = Array.from({ length: 12 }, (_, k) => edgesOf(noisySection(exact, sampled, SIGMA, k + 1)));
    for (const edge of ['leading', 'trailing'] as const) {
      const found = spread(
        plates.map((at) => at(edge, 'edge-radius', 'R-END')),
        1,
      );
      // What 12 runs may show by chance with a likelihood of 99.9 %, the stated one within 15 %.
      expect(found.ratio).toBeGreaterThan(0.85 * 0.41);
      expect(found.ratio).toBeLessThan(1.15 * 1.69);
      expect(Math.abs(found.bias)).toBeLessThan(1);
    }
  });
});
