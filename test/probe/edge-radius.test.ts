import { expect, test } from 'vitest';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { measuresOf } from '../../src/measure/measure-section.ts';
import { sectionContext } from '../../src/measure/section-context.ts';
import { compensateProbe } from '../../src/probe/compensate-probe.ts';
import { fitCompensated } from '../../src/probe/fit-compensated.ts';
import { probedSection } from './round-edged.ts';

const PART = { edge: 0.25, lean: (10 * Math.PI) / 180 };
const SEEDS = 8;

test('the radius of a small edge comes back from a 1 mm ball without bias', () => {
  const errors: number[] = [];
  const stated: number[] = [];
  for (let seed = 1; seed <= SEEDS; seed++) {
    const sections = [0, 8, 16, 24].map((height, i) =>
      probedSection(PART, height, 1, { sigma: 0.002, seed: 100 * seed + i }),
    );
    for (const section of compensateProbe(sections, { tipRadius: 1 }).sections) {
      const fitted = fitCompensated(section);
      const edges = findSectionEdges(fitted.outline);
      const { leadingEdge, trailingEdge } = measuresOf(
        sectionContext({ outline: fitted.outline, edges, fitted }, MEASURE_DEFAULTS),
      );
      for (const { value, u } of [leadingEdge.radiusFit, trailingEdge.radiusFit]) {
        errors.push((value ?? Number.NaN) - PART.edge);
        stated.push(u ?? Number.NaN);
      }
    }
  }
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  const spread = Math.sqrt(errors.reduce((sum, error) => sum + (error - mean) ** 2, 0) / (errors.length - 1));
  const meanStated = stated.reduce((sum, u) => sum + u, 0) / stated.length;
  expect(spread / meanStated).toBeGreaterThan(0.75);
  expect(spread / meanStated).toBeLessThan(1.3);
  for (const error of errors) expect(Math.abs(error)).toBeLessThan(0.003);
  expect(Math.abs(mean)).toBeLessThan(spread / 3);
});
