import { describe, expect, it } from 'vitest';
import type { EdgeName } from '../../src/measure/definitions/definition.ts';
import { edgesOf, polygonPoints } from './edge-shapes.ts';
import { CAMBERED, diskPoints, ellipsePoints, joukowskiPoints, nacaPoints, platePoints, sectionOf } from './shapes.ts';

const near = (actual: number | null, expected: number, tolerance: number, what = '') =>
  expect(Math.abs((actual ?? Number.NaN) - expected), `${what} ${actual} for ${expected}`).toBeLessThanOrEqual(
    tolerance,
  );
const EDGES: EdgeName[] = ['leading', 'trailing'];
const ALL = ['R-LSQ', 'R-SB', 'R-OSC', 'R-MIC', 'R-END', 'E-AB'];

describe('radius of a 3:1 elliptic edge', () => {
  const at = edgesOf(sectionOf(platePoints(40, 3, 1, 1000, 1000)));
  const radius = (edge: EdgeName, id: string, parameters = {}) => at(edge, 'edge-radius', id, parameters).value;
  it.each(EDGES)('is what each definition makes of it, %s', (edge) => {
    for (const [halfAngleDeg, expected] of [
      [30, 0.353897],
      [45, 0.391359],
      [60, 0.479846],
      [80, 0.841319],
    ])
      near(radius(edge, 'R-LSQ', { halfAngleDeg }), expected, 1e-5, 'R-LSQ');
    for (const [setback, expected] of [
      [0.05, 0.352357],
      [0.1, 0.371239],
      [0.25, 0.426418],
      [0.5, 0.513114],
      [1, 0.670928],
    ])
      near(radius(edge, 'R-SB', { setback }), expected, 1e-5, 'R-SB');
    for (const setback of [0.5, 1])
      near(radius(edge, 'R-MIC', { setback }), Math.sqrt(1 - (3 - setback) ** 2 / 8), 1e-5);
    near(radius(edge, 'R-OSC'), 1 / 3, 1e-4, 'R-OSC');
    near(radius(edge, 'R-END'), 1 / 3, 1e-4, 'R-END');
    near(radius(edge, 'E-AB'), 1 / 3, 1e-6, 'E-AB');
  });
  it('has its axes, free and with the ratio of the drawing', () => {
    for (const parameters of [{}, { ratio: 3 }]) {
      near(at('leading', 'edge-ellipse', 'E-A', parameters).value, 3, 1e-5);
      near(at('leading', 'edge-ellipse', 'E-B', parameters).value, 1, 1e-6);
      near(at('leading', 'edge-radius', 'E-AB', parameters).value, 1 / 3, 1e-6);
    }
    const circle = radius('leading', 'E-AB', { ratio: 1 });
    expect(circle).toBeCloseTo(radius('leading', 'R-LSQ') as number, 4);
  });
  it('refuses an inscribed circle within the end circle', () => {
    expect(at('leading', 'edge-radius', 'R-MIC', { setback: 0.3 })).toMatchObject({ status: 'not-applicable' });
    expect(at('leading', 'edge-radius', 'R-SB', { setback: 21 })).toMatchObject({ status: 'not-applicable' });
  });
  it('says which circle it drew through what', () => {
    const { evidence } = at('leading', 'edge-radius', 'R-LSQ');
    near(evidence?.centreY as number, 0, 1e-6);
    expect(evidence?.fromDeg).toBeCloseTo(120, 3);
    expect(evidence?.toDeg).toBeCloseTo(-120, 3);
    const cap = at('trailing', 'edge-radius', 'E-AB').evidence;
    near(cap?.centreX as number, 17, 1e-4);
  });
});

describe('radius by every definition', () => {
  it.each(EDGES)('is 1 on the circular end of a plate, %s', (edge) => {
    const at = edgesOf(sectionOf(platePoints(40, 1, 1, 1400, 600)));
    for (const id of ALL) near(at(edge, 'edge-radius', id).value, 1, 1e-5, id);
    for (const setback of [0.1, 0.5, 0.9]) near(at(edge, 'edge-radius', 'R-SB', { setback }).value, 1, 1e-5);
  });
  it('is that of the end discs of a cambered section, within their arcs', () => {
    const at = edgesOf(sectionOf(diskPoints(CAMBERED, 1400, 600)));
    for (const [edge, r] of [
      ['leading', 0.5],
      ['trailing', 0.3],
    ] as const) {
      for (const id of ['R-LSQ', 'R-SB', 'R-END', 'E-AB']) near(at(edge, 'edge-radius', id).value, r, 1e-6, id);
      near(at(edge, 'edge-radius', 'R-OSC').value, r, 1e-4);
    }
    const length = (50 * 40 * Math.PI) / 180;
    for (const depth of [0.5, 2, 6])
      near(
        at('leading', 'edge-radius', 'R-MIC', { setback: 0.5 + depth }).value,
        CAMBERED.radius(depth / length),
        4e-6,
      );
  });
  it('is b √(1 − x² / (a² − b²)) on an ellipse', () => {
    const at = edgesOf(sectionOf(ellipsePoints(20, 2, 4000)));
    for (const x of [5, 10, 15])
      near(at('trailing', 'edge-radius', 'R-MIC', { setback: 20 - x }).value, 2 * Math.sqrt(1 - x ** 2 / 396), 2e-6);
    near(at('leading', 'edge-radius', 'R-END').value, 0.2, 1e-4);
    near(at('leading', 'edge-radius', 'E-AB').value, 0.2, 1e-6);
  });
  it('is overstated by a set-back of one percent on a 4-digit section', () => {
    const at = edgesOf(sectionOf(nacaPoints(1, 2000), [0]));
    for (const [setback, expected] of [
      [0.001, 0.015898],
      [0.0025, 0.016308],
      [0.005, 0.017108],
      [0.01, 0.01882],
      [0.02, 0.022268],
    ])
      near(at('leading', 'edge-radius', 'R-SB', { setback }).value, expected, 1e-6);
    near(at('leading', 'edge-radius', 'R-OSC').value, (5 * 0.2969 * 0.12) ** 2 / 2, 1e-5);
  });
  it('is that of a Joukowski nose', () => {
    const at = edgesOf(sectionOf(joukowskiPoints(4000), [0]));
    const q = 1.2;
    near(at('leading', 'edge-radius', 'R-OSC').value, (q * q - 1) ** 2 / (2 * q * (q * q - q + 1)), 1e-5);
  });
});

describe('an edge without an arc', () => {
  const square = polygonPoints(
    [
      [-15, -1],
      [15, -1],
      [15, 1],
      [-15, 1],
    ],
    200,
  );
  const cases = [
    ['a sharp edge', sectionOf(nacaPoints(1, 1000), [0]), 'sharp'],
    ['a cusp', sectionOf(joukowskiPoints(2000), [0]), 'sharp'],
    ['a flat end', sectionOf(square, [0, 200, 400, 600]), 'flat'],
  ] as const;
  it.each(cases)('has no radius on %s', (_, section, word) => {
    const at = edgesOf(section);
    for (const id of ALL) {
      const value = at('trailing', 'edge-radius', id, id === 'R-SB' || id === 'R-MIC' ? { setback: 0.05 } : {});
      expect(value).toMatchObject({ status: 'not-applicable', value: null, definition: id });
      expect(value.reason).toContain(word);
    }
    expect(at('trailing', 'edge-ellipse', 'E-B').status).toBe('not-applicable');
  });
});
