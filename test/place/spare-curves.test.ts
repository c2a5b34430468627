import { describe, expect, test } from 'vitest';
import { identityPose } from '../../src/math/rigid.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Pose } from '../../src/model/pose.ts';
import { poseAbout, rotationOfAnglesDeg } from '../../src/place/pose-readings.ts';
import { leastSpare, spareCurves, trialCells } from '../../src/place/spare-curves.ts';
import { boxField, plainZones } from './box-blank.ts';

const DEG = Math.PI / 180;
const zones = plainZones('upper', 'lower', 'right', 'left', 'top', 'bottom');
const field = boxField({ finished: [20, 1, 50], blank: [20.6, 1.3, 51] });
const PIVOT: Vec3 = [3, -2, 40];
const ORDER = 'RzRyRx';

function laid(anglesDeg: Vec3, shift: Vec3): Pose {
  return poseAbout(rotationOfAnglesDeg(anglesDeg, ORDER), shift, PIVOT);
}

describe('stock of cells after a small motion', () => {
  test('agrees with the exact stock to second order', async () => {
    const cells = await field(identityPose());
    const errors = [1, 0.1].map(async (size) => {
      const shift: Vec3 = [0.1 * size, -0.05 * size, 0.08 * size];
      const angles: Vec3 = [0.05 * size, 0.03 * size, -0.04 * size];
      const exact = await field(laid(angles, shift));
      const trial = trialCells(cells, PIVOT, [...shift, ...angles.map((angle) => angle * DEG)]);
      return trial.reduce((most, value, i) => Math.max(most, Math.abs(value - exact.stock[i])), 0);
    });
    const [large, small] = await Promise.all(errors);
    expect(large).toBeLessThan(1e-3);
    expect(small).toBeLessThan(large / 50);
  });

  test('least spare and its cell: a motion, a share, an uncertainty, cells not measured or of no zone', async () => {
    const cells = await field(identityPose());
    expect(leastSpare(cells, zones).spare).toBeCloseTo(0.3, 12);
    // Down by 0.1: the upper flank has 0.2.
    const lowered = leastSpare(cells, zones, { pivot: PIVOT, motion: [0, -0.1, 0, 0, 0, 0] });
    expect(lowered.spare).toBeCloseTo(0.2, 12);
    expect(cells.zone[lowered.cell]).toBe(0);
    expect(leastSpare(cells, zones, undefined, 3).spare).toBeCloseTo(0.3 - 3 * 0.002, 12);
    const shares = zones.map((zone, k) => (k < 2 ? zone : { ...zone, least: 0.1, weight: 10 }));
    expect(leastSpare(cells, shares).spare).toBeCloseTo(0.05, 12);
    for (let i = 0; i < cells.count; i++) {
      if (cells.zone[i] === 0) cells.stock[i] = Number.NaN;
      else if (cells.zone[i] === 1) cells.zone[i] = -1;
    }
    expect(leastSpare(cells, zones).spare).toBeCloseTo(0.6, 12);
    cells.zone.fill(-1);
    expect(leastSpare(cells, zones)).toEqual({ spare: Number.NaN, cell: -1 });
  });
});

describe('least spare stock against the value of an axis', () => {
  const start = laid([0.04, -0.05, 0.06], [0.1, 0.12, -0.2]);

  test('shifts in closed form: less of both faces, best in the middle', async () => {
    const curves = spareCurves(await field(laid([0, 0, 0], [0, 0.12, 0])), zones, laid([0, 0, 0], [0, 0.12, 0]), {
      pivot: PIVOT,
      rotationOrder: ORDER,
    });
    const y = curves[1];
    expect(y.axis).toBe('y');
    expect(y.now).toBeCloseTo(0.12, 12);
    expect(y.best).toBeCloseTo(0, 9);
    y.values.forEach((value, k) => {
      expect(y.spare[k]).toBeCloseTo(0.3 - Math.abs(value), 9);
    });
    // Along x nothing is gained: the flank holds, until an end does.
    expect(curves[0].spare[20]).toBeCloseTo(0.18, 9);
    expect(curves[0].spare[40]).toBeCloseTo(0.1, 9);
  });

  test('every curve is concave, meets the present spare at now and is greatest at best', async () => {
    const cells = await field(start);
    const now = leastSpare(cells, zones).spare;
    for (const curve of spareCurves(cells, zones, start, { pivot: PIVOT, rotationOrder: ORDER })) {
      const { values, spare } = curve;
      expect(values).toHaveLength(41);
      expect(spare[20]).toBeCloseTo(now, 12);
      for (let k = 1; k + 1 < spare.length; k++) {
        expect(spare[k]).toBeGreaterThanOrEqual((spare[k - 1] + spare[k + 1]) / 2 - 1e-12);
      }
      const top = spare.indexOf(Math.max(...spare));
      const step = values[1] - values[0];
      expect(Math.abs(curve.best - values[top])).toBeLessThanOrEqual(step);
    }
  });

  test('ranges bound curve and best; values count from the placement given', async () => {
    const cells = await field(start);
    const options = { pivot: PIVOT, rotationOrder: ORDER, ranges: { y: [0.05, 0.3] as const }, points: 6 } as const;
    const y = spareCurves(cells, zones, start, options)[1];
    expect(y.values[0]).toBeCloseTo(0.05, 12);
    expect(y.values[5]).toBeCloseTo(0.3, 12);
    expect(y.best).toBeGreaterThanOrEqual(0.05);
    const from = spareCurves(cells, zones, start, { pivot: PIVOT, rotationOrder: ORDER, from: start });
    for (const { now } of from) expect(now).toBeCloseTo(0, 12);
  });

  test('slope of a turn is that of the exact stock', async () => {
    const cells = await field(start);
    const curve = spareCurves(cells, zones, start, { pivot: PIVOT, rotationOrder: ORDER })[5];
    const change = 1e-4;
    const turned = laid([0.04, -0.05, 0.06 + change], [0.1, 0.12, -0.2]);
    const exact = leastSpare(await field(turned), zones).spare - leastSpare(cells, zones).spare;
    const slope = (curve.spare[21] - curve.spare[20]) / (curve.values[21] - curve.values[20]);
    expect(exact / change).toBeCloseTo(slope, 2);
  });

  test('nothing measured: no curve', async () => {
    const cells = await field(start);
    cells.stock.fill(Number.NaN);
    expect(spareCurves(cells, zones, start, { pivot: PIVOT, rotationOrder: ORDER })).toEqual([]);
  });
});
