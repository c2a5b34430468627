import { expect, test } from 'vitest';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { measuresOf } from '../../src/measure/measure-section.ts';
import { sectionContext } from '../../src/measure/section-context.ts';
import { compensateProbe } from '../../src/probe/compensate-probe.ts';
import { fitCompensated } from '../../src/probe/fit-compensated.ts';
import { evenAngles, leanedSection } from './leaned-ellipse.ts';

/** Perimeter 4 a E(m) of an ellipse by the trapezoidal rule, which converges beyond all powers on a closed curve. */
function ellipsePerimeter(a: number, b: number): number {
  const angles = evenAngles(2000);
  const sum = angles.reduce((total, angle) => total + Math.hypot(a * Math.sin(angle), b * Math.cos(angle)), 0);
  return (sum * 2 * Math.PI) / angles.length;
}

test('the values of an ellipse come back from the path of the ball round it', () => {
  const part = { a: 20, b: 2, lean: 0 };
  const sections = [0, 10].map((height) => leanedSection(part, height, 1, evenAngles(4000)));
  const fitted = fitCompensated(compensateProbe(sections, { tipRadius: 1 }).sections[0]);
  const edges = findSectionEdges(fitted.outline);
  const measures = measuresOf(sectionContext({ outline: fitted.outline, edges, fitted }, MEASURE_DEFAULTS));
  const wanted: [keyof typeof measures, number][] = [
    ['area', Math.PI * 20 * 2],
    ['perimeter', ellipsePerimeter(20, 2)],
    ['chordFar', 40],
    ['centroidX', 0],
    ['centroidY', 0],
    ['thicknessMax', 4],
  ];
  for (const [name, value] of wanted) {
    const found = measures[name];
    if (found === undefined || !('value' in found) || found.value === null) throw new Error(`${name} was not measured`);
    expect(Math.abs(found.value - value), name).toBeLessThan(1e-6 * Math.max(1, value));
  }
  // The curvature of a cubic spline is of second order in the spacing: 4e-5 of the radius here.
  expect(measures.leadingEdge.radiusNose.value).toBeCloseTo(0.2, 4);
});
