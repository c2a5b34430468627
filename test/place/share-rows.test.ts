import { describe, expect, test } from 'vitest';
import { composePoses, identityPose, invertPose, movePoint } from '../../src/math/rigid.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import { poseAbout, type RotationOrder, rotationOfAnglesDeg } from '../../src/place/pose-readings.ts';
import { axisBounds, insideBounds, poseOfValues, valuesOfPose } from '../../src/place/share-axes.ts';
import { isBetter, type Merit, meritOf } from '../../src/place/share-merit.ts';
import { stockRows } from '../../src/place/share-rows.ts';
import { boxField, plainZones } from './box-blank.ts';

const DEG = Math.PI / 180;
const PIVOT: Vec3 = [3, -2, 40];
const FROM = poseAbout(rotationOfAnglesDeg([20, -35, 70], 'RzRyRx'), [5, 8, -3], [0, 0, 0]);
const VALUES = Float64Array.of(0.2, -0.1, 0.3, 4, -7, 11);
const zones = plainZones('a', 'b', 'c', 'd', 'e', 'f');

describe.each<RotationOrder>(['RzRyRx', 'RxRyRz'])('six values of a placement, %s', (rotationOrder) => {
  const frame = { from: FROM, pivot: PIVOT, rotationOrder };

  test('values and placement are each other’s inverse', () => {
    const back = valuesOfPose(poseOfValues(VALUES, frame), frame);
    for (let k = 0; k < 6; k++) expect(back[k]).toBeCloseTo(VALUES[k], 10);
    const none = valuesOfPose(FROM, frame);
    for (const value of none) expect(Math.abs(value)).toBeLessThan(1e-12);
  });

  test('slopes are those of points carried along', async () => {
    const cells = await boxField({ finished: [20, 1, 50], blank: [20.6, 1.3, 51], steps: 3 })(identityPose());
    const length = 25;
    const rows = stockRows(cells, zones, VALUES, frame, length);
    expect(rows.unit[4]).toBeCloseTo(1 / (DEG * length), 12);
    const pose = poseOfValues(VALUES, frame);
    for (let k = 0; k < 6; k++) {
      const change = 1e-5;
      const next = VALUES.map((value, a) => (a === k ? value + change * rows.unit[k] : value));
      const motion = composePoses(poseOfValues(next, frame), invertPose(pose));
      for (let i = 0; i < rows.count; i++) {
        const n = cells.normal.subarray(3 * i, 3 * i + 3);
        const q = cells.point.subarray(3 * i, 3 * i + 3).map((value, a) => value + cells.stock[i] * n[a]);
        const moved = movePoint(motion, q);
        const rise = moved.reduce((sum, value, a) => sum + n[a] * (value - q[a]), 0) / change;
        expect(rows.slope[6 * i + k]).toBeCloseTo(rise, 4);
      }
    }
  });
});

test('bounds: locks keep the start, ranges the rest, values are moved inside', () => {
  const start = Float64Array.of(1, 2, 3, 4, 5, 6);
  const bounds = axisBounds(start, ['z'], { x: [-1, 0.5], rz: [7, 8], y: undefined });
  expect(Array.from(insideBounds(start, bounds))).toEqual([0.5, 2, 3, 4, 5, 7]);
  expect([bounds.low[2], bounds.high[2]]).toEqual([3, 3]);
  expect([bounds.low[1], bounds.high[1]]).toEqual([-Infinity, Infinity]);
});

describe('which placement is better', () => {
  const merit = (change: Partial<Merit>): Merit => ({
    clean: 0,
    excess: 0,
    levels: [
      { zone: 0, spare: 0.1 },
      { zone: 1, spare: 0.2 },
    ],
    uneven: 0.3,
    ...change,
  });

  test('cleaning up before excess before spare before evenness; ties do not decide', () => {
    const tie = 1e-4;
    const more = [
      { zone: 1, spare: 0.15 },
      { zone: 0, spare: 0.16 },
    ];
    expect(isBetter(merit({ excess: 1 }), merit({ clean: -0.1 }), tie)).toBe(true);
    expect(isBetter(merit({ excess: 0.1, levels: more }), merit({}), tie)).toBe(false);
    expect(isBetter(merit({ levels: more }), merit({ uneven: 0.1 }), tie)).toBe(true);
    const second = [
      { zone: 0, spare: 0.1 - 0.5 * tie },
      { zone: 1, spare: 0.21 },
    ];
    expect(isBetter(merit({ levels: second }), merit({}), tie)).toBe(true);
    expect(isBetter(merit({ uneven: 0.29 }), merit({}), tie)).toBe(true);
    expect(isBetter(merit({}), merit({}), tie)).toBe(false);
  });

  test('merit of a step by the rows', async () => {
    const cells = await boxField({ finished: [20, 1, 50], blank: [20.6, 1.3, 51], steps: 3 })(identityPose());
    const wants = zones.map((zone, k) => ({ ...zone, most: k === 0 ? 0.25 : null }));
    const frame = { pivot: PIVOT, rotationOrder: 'RzRyRx' as const };
    const rows = stockRows(cells, wants, new Float64Array(6), frame, 1);
    const up = meritOf(rows, [0, 0.4, 0, 0, 0, 0]);
    expect(up.clean).toBeCloseTo(-0.1, 12);
    expect(up.excess).toBeCloseTo(0.45, 12);
    expect(up.levels.map(({ zone }) => zone)).toEqual([1, 2, 3, 0, 4, 5]);
    const squares = [0.7, -0.1, 0.6, 0.6, 1, 1].reduce((sum, value) => sum + value ** 2, 0);
    expect(up.uneven).toBeCloseTo(Math.sqrt(squares / 6), 12);
  });
});
