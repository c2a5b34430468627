import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { Quantity } from '../../src/measure/definitions/definition.ts';
import type { Parameters, Value } from '../../src/model/value.ts';
import { type Measure, measureOf } from './measure-place.ts';
import { CAMBERED, diskPoints, sectionOf } from './shapes.ts';

const SEEDS = 32;
const SIGMA = 0.005;
const exact = sectionOf(diskPoints(CAMBERED, 1400, 600));
const truth = measureOf(exact);

/** 600 points a flank and 400 an edge, each off its disc by noise along the disc's radius. */
function noisyMeasure(seed: number): Measure {
  const uniform = seededRandom(seed);
  const normal = normalFrom(uniform);
  const spread = (n: number) => Array.from({ length: n }, (_, i) => (i + (i > 0 ? 0.8 * (uniform() - 0.5) : 0)) / n);
  const plain = diskPoints(CAMBERED, 600, 400, { flank: spread, cap: spread });
  const n = plain.length / 2;
  const points = Float64Array.from(plain);
  for (let i = 0; i < n; i++) {
    const before = 2 * ((i + n - 1) % n);
    const after = 2 * ((i + 1) % n);
    const tx = plain[after] - plain[before];
    const ty = plain[after + 1] - plain[before + 1];
    const error = (SIGMA * normal()) / Math.hypot(tx, ty);
    points[2 * i] += error * ty;
    points[2 * i + 1] -= error * tx;
  }
  const fitted = fitOutline(points);
  return measureOf({ outline: fitted.outline, edges: findSectionEdges(fitted.outline), fitted });
}

const runs = Array.from({ length: SEEDS }, (_, seed) => noisyMeasure(seed + 1));

describe('stated uncertainty of a section with 5 µm noise', () => {
  const list: [Quantity, string, Parameters, { edge?: 'leading' | 'trailing'; at?: number }][] = [
    ['chord', 'CH-CAM', {}, {}],
    ['chord', 'CH-CAM', { extension: 'arc' }, {}],
    ['chord', 'CH-AX', { direction: 'tangential' }, {}],
    ['stagger', 'CH-BT', {}, {}],
    ['stagger', 'CH-CAM', { extension: 'arc' }, {}],
    ['metal-angle', 'MA-WIN', {}, { edge: 'leading' }],
    ['metal-angle', 'MA-WIN', { form: 'circle' }, { edge: 'trailing' }],
    ['metal-angle', 'MA-WIN', { from: 5, to: 25 }, { edge: 'leading' }],
    ['camber-angle', 'MA-WIN', {}, {}],
    ['camber-angle', 'CAMBER-ARC', {}, {}],
    ['camber-max', 'F-POS', { chord: 'CH-CAM' }, {}],
    ['thickness', 'T-ORD', {}, { at: 0.1 }],
    ['thickness', 'T-ORD', { chord: 'CH-BT' }, { at: 0.9 }],
    ['thickness', 'T-CAM', {}, { at: 0.25 }],
    ['thickness', 'T-MIC', { along: 'chord' }, { at: 0.9 }],
    ['thickness-max', 'T-ORD', {}, {}],
    ['thickness-max', 'T-POS', {}, {}],
    ['area-property', 'I-XX', {}, {}],
    ['area-property', 'I-XY', {}, {}],
    ['area-property', 'I-1', {}, {}],
    ['area-property', 'I-2', {}, {}],
    ['throat', 'THROAT', { pitch: 25 }, {}],
  ];
  it.each(list)('%s by %s %j %j', (quantity, id, parameters, where) => {
    const right = truth(quantity, id, parameters, where).value as number;
    const values = runs.map((measure) => measure(quantity, id, parameters, where));
    const mean = (of: (v: Value) => number) => Math.sqrt(values.reduce((sum, v) => sum + of(v) ** 2, 0) / SEEDS);
    const rms = mean((v) => (v.value as number) - right);
    const u = mean((v) => v.u as number);
    expect(values.every((v) => v.status === 'ok' && v.u !== null)).toBe(true);
    // The spread of 32 runs is itself known to an eighth; u holds the doubt of what smoothing hides besides noise.
    expect(rms).toBeLessThan(1.4 * u);
    expect(rms).toBeGreaterThan(0.55 * u);
  });
});

describe('sections with a piece missing', () => {
  const { leading } = exact.edges;
  const { period } = exact.outline;
  const covered = (from: number, to: number): boolean => {
    const at = leading - period * Math.floor((leading - from) / period);
    return at > to + 0.6 && at - period < from - 0.6;
  };
  const measure = measureOf({ ...exact, covered });
  it.each([
    ['chord', 'CH-FAR'],
    ['chord', 'CH-BT'],
    ['chord', 'CH-CAM'],
    ['chord', 'CH-AX'],
    ['stagger', 'CH-CAM'],
    ['camber-angle', 'MA-WIN'],
    ['camber-angle', 'CAMBER-ARC'],
    ['camber-max', 'F-MAX'],
    ['thickness-max', 'T-ORD'],
  ] as [Quantity, string][])('have no %s by %s', (quantity, id) => {
    expect(measure(quantity, id)).toMatchObject({ status: 'not-measured', value: null, u: null });
  });
  it('keep what stands elsewhere', () => {
    expect(measure('thickness-max', 'T-MIC').status).toBe('ok');
    expect(measure('thickness', 'T-CAM', {}, { at: 0.5 }).status).toBe('ok');
    expect(measure('metal-angle', 'MA-WIN', {}, { edge: 'trailing' }).status).toBe('ok');
    expect(measure('metal-angle', 'MA-WIN', {}, { edge: 'leading' }).reason).toContain('leading edge');
  });
});
