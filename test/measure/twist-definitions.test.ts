import { describe, expect, it } from 'vitest';
import { fitOutline } from '../../src/fit/fit-outline.ts';
import { findSectionEdges } from '../../src/fit/section-edges.ts';
import { areaProperties } from '../../src/measure/area-properties.ts';
import type { Quantity } from '../../src/measure/definitions/definition.ts';
import { measureBy } from '../../src/measure/definitions/definitions.ts';
import { MEASURE_DEFAULTS } from '../../src/measure/measure-options.ts';
import { type SectionContext, sectionContext } from '../../src/measure/section-context.ts';
import { MOTION_BASES } from '../../src/measure/section-motion.ts';
import type { Parameters, Value } from '../../src/model/value.ts';
import { carriedTo } from './carried.ts';
import { misfit, noisyPoints } from './noisy.ts';
import { CAMBERED, diskPoints, grownLeading, moved, sectionOf } from './shapes.ts';

const points = diskPoints(CAMBERED, 700, 300);
const section = sectionOf(points);
const nominal = sectionContext(section, MEASURE_DEFAULTS);
const { centroidX, centroidY } = areaProperties(section.outline);
const centroid: [number, number] = [centroidX, centroidY];
const AT_CENTROID = { pivotX: centroidX, pivotY: centroidY };
const TURN = (1.25 * Math.PI) / 180;
const [DX, DY] = [0.12, -0.045];

function measureOf(
  context: SectionContext,
  shape: Float64Array,
  quantity: Quantity,
  id: string,
  given: Parameters = {},
) {
  const against = { nominal, carried: carriedTo(nominal, context, shape) };
  return measureBy({ context, edge: null, flank: null, at: null, against }, quantity, id, given);
}

/** Measures of one exact shape. */
function measures(shape: Float64Array): (quantity: Quantity, id: string, given?: Parameters) => Value {
  const context = sectionContext(sectionOf(shape), MEASURE_DEFAULTS);
  return (quantity, id, given) => measureOf(context, shape, quantity, id, given);
}

describe('a section turned by 1.25 degrees about its centroid and moved', () => {
  const of = measures(moved(points, TURN, centroid, DX, DY));

  it('reads the turn by every chord that has a direction and by the fit with and without edges', () => {
    for (const chord of ['CH-FAR', 'CH-BT', 'CH-CAM'])
      expect(of('twist', 'TWIST-CHORD', { chord }).value as number).toBeCloseTo(1.25, 6);
    for (const edges of ['included', 'excluded'])
      expect(of('twist', 'TWIST-FIT', { edges }).value as number).toBeCloseTo(1.25, 6);
    expect(of('twist', 'TWIST-CHORD', { chord: 'CH-AX' }).status).toBe('not-applicable');
  });

  it('reads the move of the centroid on every basis', () => {
    for (const basis of MOTION_BASES) {
      expect(of('displacement', 'DISPLACEMENT-X', { basis, ...AT_CENTROID }).value as number).toBeCloseTo(DX, 5);
      expect(of('displacement', 'DISPLACEMENT-Y', { basis, ...AT_CENTROID }).value as number).toBeCloseTo(DY, 5);
    }
  });

  it('moves with the pivot: r (cos τ − 1, sin τ) more at a pivot r ahead', () => {
    for (const basis of MOTION_BASES) {
      const ahead = { basis, pivotX: centroidX + 15, pivotY: centroidY };
      const x = of('displacement', 'DISPLACEMENT-X', ahead).value as number;
      const y = of('displacement', 'DISPLACEMENT-Y', ahead).value as number;
      expect(x - DX).toBeCloseTo(15 * (Math.cos(TURN) - 1), 5);
      expect(y - DY).toBeCloseTo(15 * Math.sin(TURN), 5);
    }
  });

  it('parts the move into one along the nominal chord and one normal to it, towards the suction side', () => {
    const { far } = nominal;
    const angle = Math.atan2(far.trailingY - far.leadingY, far.trailingX - far.leadingX);
    const along = DX * Math.cos(angle) + DY * Math.sin(angle);
    const normal = DY * Math.cos(angle) - DX * Math.sin(angle);
    expect(of('displacement', 'DISPLACEMENT-CHORD', AT_CENTROID).value as number).toBeCloseTo(along, 6);
    expect(of('displacement', 'DISPLACEMENT-NORMAL', AT_CENTROID).value as number).toBeCloseTo(normal, 6);
  });
});

describe('the same with the leading edge grown from 0.50 to 0.55 mm', () => {
  const of = measures(moved(grownLeading(points), TURN, centroid, DX, DY));

  it('turns the bitangent chord but not the fit without edges', () => {
    expect(of('twist', 'TWIST-CHORD', { chord: 'CH-BT' }).value as number).toBeCloseTo(1.333763, 3);
    expect(Math.abs((of('twist', 'TWIST-FIT', { edges: 'excluded' }).value as number) - 1.25)).toBeLessThan(0.01);
  });

  it('moves the middle of the line of centres less than the rigid fit', () => {
    const error = (basis: string) => {
      const [x, y] = ['X', 'Y'].map((axis) => of('displacement', `DISPLACEMENT-${axis}`, { basis, ...AT_CENTROID }));
      return Math.hypot((x.value as number) - DX, (y.value as number) - DY);
    };
    expect(error('mid camber line')).toBeLessThan(0.5 * error('rigid fit'));
  });
});

describe('uncertainty of a displacement', () => {
  it('holds on every basis: 4 µm noise, 8 seeds', () => {
    const SIGMA = 0.004;
    const even = (count: number) => Array.from({ length: count }, (_, i) => i / count);
    const spread = diskPoints(CAMBERED, 400, 120, { flank: even, cap: even });
    const runs = Array.from({ length: 8 }, (_, seed) => {
      const noisy = noisyPoints(section.outline, spread, SIGMA, seed + 1);
      const fitted = fitOutline(noisy, { sigma: SIGMA });
      const context = sectionContext(
        { outline: fitted.outline, edges: findSectionEdges(fitted.outline), fitted },
        MEASURE_DEFAULTS,
      );
      return (basis: string, axis: string) =>
        measureOf(context, noisy, 'displacement', `DISPLACEMENT-${axis}`, { basis, ...AT_CENTROID });
    });
    for (const basis of MOTION_BASES)
      for (const axis of ['CHORD', 'NORMAL']) {
        const ratio = misfit(
          runs.map((run) => run(basis, axis)),
          0,
        );
        expect.soft(ratio, `${basis} ${axis}`).toBeGreaterThan(0.4);
        expect.soft(ratio, `${basis} ${axis}`).toBeLessThan(1.7);
      }
  });
});
