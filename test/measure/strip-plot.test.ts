import { describe, expect, it } from 'vitest';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { sectionContext } from '../../src/measure/section-context.ts';
import { stripPlots } from '../../src/measure/strip-plot.ts';
import { ellipsePoints, platePoints, sectionOf } from './shapes.ts';

const contextOf = (points: Float64Array) => sectionContext(sectionOf(points), MEASURE_DEFAULTS);

describe('strips under a section', () => {
  it('give the curvature of an ellipse along its whole outline', () => {
    const [a, b] = [20, 2];
    const { curvature } = stripPlots(contextOf(ellipsePoints(a, b, 2000)), null);
    const { along, value, u } = curvature!;
    const rising = along.every((s, i) => i === 0 || s > along[i - 1]);
    expect(rising).toBe(true);
    expect(u.every((one) => one === null)).toBe(true);
    const least = Math.min(...value.map((one) => one!));
    const most = Math.max(...value.map((one) => one!));
    expect(Math.abs(least - b / (a * a))).toBeLessThan(0.02 * (b / (a * a)));
    const nose = value[along.reduce((best, s, i) => (Math.abs(s) < Math.abs(along[best]) ? i : best), 0)]!;
    expect(Math.abs(nose / (a / (b * b)) - 1)).toBeLessThan(0.1);
    expect(most).toBeLessThan(1.02 * (a / (b * b)));
    const turned = along.slice(1).reduce((sum, s, i) => sum + 0.5 * (value[i]! + value[i + 1]!) * (s - along[i]), 0);
    expect(Math.abs(turned / (2 * Math.PI) - 1)).toBeLessThan(0.05);
  });

  it('give the thickness of a plate against that of a thicker one', () => {
    const { thickness } = stripPlots(
      contextOf(platePoints(40, 1, 1, 1400, 600)),
      contextOf(platePoints(40, 1.1, 1.1, 1400, 600)),
    );
    const { at, value, nominal } = thickness!;
    expect([at[0], at[at.length - 1]]).toEqual([0, 1]);
    for (const one of value) expect(Math.abs(one - 2)).toBeLessThan(2e-5);
    for (const one of nominal!.value) expect(Math.abs(one - 2.2)).toBeLessThan(2e-5);
  });
});
