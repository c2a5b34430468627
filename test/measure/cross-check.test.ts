import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { likeliestCircle, polylineOf, widestCircle } from '../accuracy/cross-check.ts';
import { crossChecks, edgeChecks } from '../accuracy/cross-check-rows.ts';
import { contextOf, exactSection, POINTS } from '../accuracy/section-statistics.ts';
import { REFERENCE_SECTIONS, type ReferenceName, sectionPoints } from '../support/reference-sections.ts';
import { ellipsePoints, sectionOf } from './shapes.ts';

const NAMES = Object.keys(REFERENCE_SECTIONS) as ReferenceName[];

describe('measures agree with another method', () => {
  const cases = NAMES.flatMap((name): [ReferenceName, number][] => [
    [name, 0],
    [name, 0.005],
  ]);
  it.each(cases)('%s section, noise %d mm', (name, noise) => {
    const points = sectionPoints(REFERENCE_SECTIONS[name], POINTS, noise, 3);
    const context = noise > 0 ? contextOf(fitOutline(points, { corners: [] })) : exactSection(name).context;
    const checks = [...crossChecks(context), edgeChecks(points, name)];
    const apart = checks.filter(({ measured, otherwise, tolerance }) => !(Math.abs(measured - otherwise) <= tolerance));
    expect(apart).toEqual([]);
  });
});

describe('the other methods themselves', () => {
  it('find the largest circle of an ellipse, 2 b', () => {
    const { outline } = sectionOf(ellipsePoints(20, 2, 400));
    expect(widestCircle(polylineOf(outline), 0)).toBeCloseTo(4, 5);
  });

  it('find the circle that three points name', () => {
    const points = { x: Float64Array.of(3, 0, 0), y: Float64Array.of(0, 4, 0) };
    expect(likeliestCircle(points)).toBeCloseTo(2.5, 7);
  });

  it('tell a measure that is off', () => {
    const { context } = exactSection('round');
    const grown = { ...context.section.outline, controlX: context.section.outline.controlX.map((v) => v * 1.00001) };
    const [far] = crossChecks({ ...context, section: { ...context.section, outline: grown } });
    expect(Math.abs(far.measured - far.otherwise)).toBeGreaterThan(10 * far.tolerance);
  });
});
