import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { measureSection } from '../../src/measure/measure-section.ts';
import type { SectionMeasures } from '../../src/model/results.ts';
import type { Value } from '../../src/model/value.ts';
import { CAMBERED, diskPoints, sectionOf } from './shapes.ts';

const SEEDS = 10;
const SIGMA = 0.005;
const exact = sectionOf(diskPoints(CAMBERED, 1400, 600));
const truth = measureSection(exact);

/** 600 points a flank and 400 an edge with normal noise of 5 µm. */
function noisyMeasures(seed: number): SectionMeasures {
  const uniform = seededRandom(seed);
  const normal = normalFrom(uniform);
  const spread = (n: number) => Array.from({ length: n }, (_, i) => (i + (i > 0 ? 0.8 * (uniform() - 0.5) : 0)) / n);
  const points = diskPoints(CAMBERED, 600, 400, { flank: spread, cap: spread });
  const out = new Float64Array(8);
  for (let i = 0; i < points.length; i += 2) {
    evaluateOutline(exact.outline, outlineFoot(exact.outline, points[i], points[i + 1]).t, out);
    const error = (SIGMA * normal()) / Math.hypot(out[2], out[3]);
    points[i] += error * out[3];
    points[i + 1] -= error * out[2];
  }
  const fitted = fitOutline(points);
  return measureSection({ outline: fitted.outline, edges: findSectionEdges(fitted.outline), fitted });
}

const runs = Array.from({ length: SEEDS }, (_, seed) => noisyMeasures(seed + 1));

/** Errors and stated uncertainties of one characteristic over the seeds. */
function spreadOf(pick: (m: SectionMeasures) => Value) {
  const right = pick(truth).value as number;
  const values = runs.map(pick);
  const errors = values.map((v) => Math.abs((v.value ?? Number.NaN) - right)).sort((a, b) => a - b);
  const rms = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / SEEDS);
  const u = Math.sqrt(values.reduce((sum, v) => sum + (v.u ?? Number.NaN) ** 2, 0) / SEEDS);
  return { median: 0.5 * (errors[SEEDS / 2 - 1] + errors[SEEDS / 2]), rms, u };
}

describe('measures of a section with 5 µm noise', () => {
  const limits: [string, (m: SectionMeasures) => Value, number][] = [
    ['chord CH-FAR', (m) => m.chordFar, 0.6e-3],
    ['chord CH-BT', (m) => m.chordBitangent, 0.8e-3],
    ['chord CH-CAM', (m) => m.chordCamber, 1.2e-3],
    ['stagger CH-FAR', (m) => m.staggerFarDeg, 2e-3],
    ['stagger CH-CAM', (m) => m.staggerCamberDeg, 2e-3],
    ['thickness', (m) => m.thicknessMax, 1.2e-3],
    ['thickness at 0.5', (m) => m.thicknessAt[1], 1.2e-3],
    ['camber angle', (m) => m.camberAngleDeg, 15e-3],
    ['area', (m) => m.area, 12e-3],
    ['centroid x', (m) => m.centroidX, 1.5e-3],
    ['leading radius', (m) => m.leadingEdge.radiusFit, 2e-3],
    ['trailing radius', (m) => m.trailingEdge.radiusFit, 2e-3],
    ['leading semi-axis', (m) => m.leadingEdge.ellipseB, 3e-3],
  ];
  it.each(limits)('%s', (_, pick, limit) => {
    const { median, rms, u } = spreadOf(pick);
    expect(median).toBeLessThan(limit);
    expect(rms).toBeLessThan(2.5 * u);
    expect(rms).toBeGreaterThan(0.2 * u);
  });
});
