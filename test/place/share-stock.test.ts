import { describe, expect, test } from 'vitest';
import { composePoses, identityPose, invertPose, rotationAngle } from '../../src/math/rigid.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Pose } from '../../src/model/pose.ts';
import { poseAbout, readPose, rotationOfAnglesDeg } from '../../src/place/pose-readings.ts';
import { type ShareOptions, shareStock } from '../../src/place/share-stock.ts';
import { boxField, plainZones } from './box-blank.ts';

const DEG = Math.PI / 180;
const FLANKS_ENDS = plainZones('upper', 'lower', 'right', 'left');
const IN_PLANE = ['z', 'rx', 'ry'] as const;

/** The blank as it lies: turned about the origin, then moved. The field takes it from its own place. */
function laid(anglesDeg: Vec3, shift: Vec3): Pose {
  return poseAbout(rotationOfAnglesDeg(anglesDeg, 'RzRyRx'), shift, [0, 0, 0]);
}

/** The finished rectangle of 40 × 2 in a blank of 41.2 × 2.6, and how the blank lies. */
const RECTANGLE = { finished: [20, 1, 0], blank: [20.6, 1.3, 0] } as const;
const LAID = laid([0, 0, 0.6], [0.2, 0.15, 0]);

function rectangle(options: Partial<ShareOptions> = {}, change: Partial<Parameters<typeof boxField>[0]> = {}) {
  const blank = boxField({ finished: [...RECTANGLE.finished], blank: [...RECTANGLE.blank], ...change });
  const field = (pose: Pose) => blank(composePoses(pose, LAID));
  return shareStock(field, identityPose(), {
    zones: FLANKS_ENDS,
    pivot: [0, 0, 0],
    rotationOrder: 'RzRyRx',
    locks: IN_PLANE,
    ...options,
  });
}

describe('stock shared over a rectangle', () => {
  test('turns and moves it back: 0.3 mm on the flanks, 0.6 mm at the ends', async () => {
    const found = await rectangle();
    expect(found.converged).toBe(true);
    expect(found.spare).toBeCloseTo(0.3, 6);
    for (const [k, expected] of [0.3, 0.3, 0.6, 0.6].entries()) {
      expect(found.levels[k].spare).toBeCloseTo(expected, 5);
    }
    const { translation, rotationDeg } = readPose(found.pose, [0, 0, 0], 'RzRyRx');
    const [c, s] = [Math.cos(0.6 * DEG), Math.sin(0.6 * DEG)];
    expect(rotationDeg[2]).toBeCloseTo(-0.6, 5);
    expect(translation[0]).toBeCloseTo(-(c * 0.2 + s * 0.15), 5);
    expect(translation[1]).toBeCloseTo(-(-s * 0.2 + c * 0.15), 5);
    expect(translation[0]).toBeCloseTo(-0.20156, 5);
    expect(translation[1]).toBeCloseTo(-0.147897, 5);
    expect(found.agreeing).toBe(found.starts);
  });

  test('both flanks hold it, half each', async () => {
    const { heldBy } = await rectangle();
    expect(heldBy.every(({ zone, limit }) => zone < 2 && limit === 'least')).toBe(true);
    for (const zone of [0, 1]) {
      const share = heldBy.filter((held) => held.zone === zone).reduce((sum, { weight }) => sum + weight, 0);
      expect(share).toBeCloseTo(0.5, 6);
    }
  });

  test('one zone leaves the rectangle free along itself; the most even place is taken, from wherever it starts', async () => {
    const zones = plainZones('all');
    const ends: number[] = [];
    for (const x of [-0.25, 0, 0.25]) {
      const blank = boxField({ finished: [20, 1, 0], blank: [20.6, 1.3, 0], zoneOf: () => 0 });
      const start = laid([0, 0, 0.1], [x, 0, 0]);
      const options: ShareOptions = { zones, pivot: [0, 0, 0], rotationOrder: 'RzRyRx', locks: IN_PLANE };
      const found = await shareStock(blank, start, options);
      expect(found.spare).toBeCloseTo(0.3, 4);
      ends.push(found.pose.translation[0]);
    }
    for (const end of ends) expect(Math.abs(end)).toBeLessThan(1e-3);
  });

  test('weights share the spare: ends of weight 3 take three times that of the flanks', async () => {
    const zones = FLANKS_ENDS.map((zone, k) => ({ ...zone, weight: k < 2 ? 1 : 3 }));
    const found = await rectangle({ zones });
    for (const [k, expected] of [0.2, 0.2, 0.3, 0.3].entries()) {
      expect(found.levels[k].spare).toBeCloseTo(expected, 4);
    }
  });

  test('stock wanted beyond what there is: short by the difference, an answer', async () => {
    const zones = FLANKS_ENDS.map((zone) => ({ ...zone, least: 0.4 }));
    const found = await rectangle({ zones });
    expect(found.spare).toBeCloseTo(-0.1, 5);
    expect(found.converged).toBe(true);
  });

  test('the uncertainty of the cells is wanted too', async () => {
    expect((await rectangle({ factor: 5 })).spare).toBeCloseTo(0.3 - 5 * 0.002, 5);
  });

  test('a turn held where it is: least stock at the corners, in closed form', async () => {
    const found = await rectangle({ locks: [...IN_PLANE, 'rz'] });
    const [c, s] = [Math.cos(0.6 * DEG), Math.sin(0.6 * DEG)];
    expect(found.values[5]).toBe(0);
    expect(found.spare).toBeCloseTo((1.3 - 20 * s) / c - 1, 5);
  });

  test('ranges bound the whole motion', async () => {
    const found = await rectangle({ ranges: { rz: [-0.4, 0.1], x: [-0.05, 0.05] } });
    const [c, s] = [Math.cos(0.2 * DEG), Math.sin(0.2 * DEG)];
    expect(found.values[5]).toBeCloseTo(-0.4, 9);
    expect(Math.abs(found.values[0])).toBeLessThanOrEqual(0.05 + 1e-12);
    expect(found.spare).toBeCloseTo((1.3 - 20 * s) / c - 1, 5);
  });

  test('ranges count from the placement they were given for', async () => {
    const from = laid([0, 0, -0.5], [0, 0, 0]);
    const found = await rectangle({ from, ranges: { rz: [-0.05, 0.5] } });
    expect(found.values[5]).toBeCloseTo(-0.05, 9);
    expect(rotationAngle(found.pose.rotation) / DEG).toBeCloseTo(0.55, 6);
  });

  test('an upper limit that can be kept moves it over', async () => {
    // The upper flank of the blank is 0.5 mm thicker: 1.1 mm to share, at most 0.5 of it below.
    const zones = FLANKS_ENDS.map((zone, k) => ({ ...zone, most: k === 1 ? 0.5 : null }));
    const found = await rectangle({ zones }, { bulges: { 0: 0.5 } });
    expect(found.excess).toBeLessThan(1e-4);
    expect(found.spare).toBeCloseTo(0.5, 4);
    expect(found.cells.stock[0]).toBeCloseTo(0.6, 3);
  });

  test('upper limits that cannot be kept are exceeded by as little as can be', async () => {
    const zones = FLANKS_ENDS.map((zone) => ({ ...zone, most: 0.2 }));
    const found = await rectangle({ zones });
    // The ends have 1.2 mm between them: 0.6 mm each, 0.4 mm too much.
    expect(found.excess).toBeCloseTo(0.4, 4);
    expect(found.spare).toBeCloseTo(0.3, 3);
  });

  test('a range that ends below its start and a share of nothing are refused', async () => {
    await expect(rectangle({ ranges: { x: [1, -1] } })).rejects.toMatchObject({ code: 'plan/value' });
    const zones = FLANKS_ENDS.map((zone) => ({ ...zone, weight: 0 }));
    await expect(rectangle({ zones })).rejects.toMatchObject({ code: 'plan/value' });
  });
});

describe('stock shared over a box', () => {
  const zones = plainZones('upper', 'lower', 'right', 'left', 'top', 'bottom');
  const lies = laid([0.3, -0.8, 0.5], [0.4, -0.3, 0.7]);
  const blank = boxField({ finished: [20, 1, 50], blank: [20.6, 1.3, 51] });
  const field = (pose: Pose) => blank(composePoses(pose, lies));
  const options: ShareOptions = { zones, pivot: [3, -2, 40], rotationOrder: 'RzRyRx' };

  test('all six motions found, 0.3, 0.6 and 1.0 mm on its pairs of faces', async () => {
    const found = await shareStock(field, identityPose(), options);
    for (const [k, expected] of [0.3, 0.3, 0.6, 0.6, 1, 1].entries()) {
      expect(found.levels[k].spare).toBeCloseTo(expected, 3);
    }
    const left = composePoses(found.pose, lies);
    expect(rotationAngle(left.rotation) / DEG).toBeLessThan(1e-3);
    for (const shift of left.translation) expect(Math.abs(shift)).toBeLessThan(1e-3);
  });

  test('the other order of turns and another start end at the same placement', async () => {
    const start = laid([-0.2, 0.4, -0.7], [0.3, 0.5, -0.4]);
    const found = await shareStock(field, start, { ...options, rotationOrder: 'RxRyRz' });
    const left = composePoses(found.pose, lies);
    expect(rotationAngle(left.rotation) / DEG).toBeLessThan(1e-3);
    expect(found.levels[4].spare).toBeCloseTo(1, 3);
  });

  test('cells not measured say nothing', async () => {
    const partial = async (pose: Pose) => {
      const cells = await field(pose);
      for (let i = 0; i < cells.count; i++) if (cells.zone[i] > 3) cells.stock[i] = Number.NaN;
      return cells;
    };
    const found = await shareStock(partial, invertPose(lies), options);
    expect(found.levels.map(({ zone }) => zone).sort()).toEqual([0, 1, 2, 3]);
    const none = async (pose: Pose) => {
      const cells = await field(pose);
      cells.stock.fill(Number.NaN);
      return cells;
    };
    await expect(shareStock(none, identityPose(), options)).rejects.toMatchObject({ code: 'stock/not-measured' });
  });
});
