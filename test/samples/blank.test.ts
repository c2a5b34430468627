import { describe, expect, it } from 'vitest';
import { formAt, nominalBlade, surfacePoint } from '../../samples/blade.ts';
import { FORGED_STOCK, forgedField, makeBlank } from '../../samples/blank.ts';
import { areaBelow } from '../../samples/blank-areas.ts';
import { edgesBlank, hopelessBlank, lostBlank, shiftBlank } from '../../samples/blank-cases.ts';
import { leastStock } from '../../samples/blank-least.ts';
import { rootTargets } from '../../samples/blank-root.ts';
import { makeBlankScan } from '../../samples/blank-scan.ts';
import { blankPoint, type ForgedBlank, stockOnBlade } from '../../samples/blank-surface.ts';
import { distanceToBlade, nominalSurfacePoint } from '../../samples/deviation.ts';
import { BLANK_POSE, BLANK_ROOT_MOTION } from '../../samples/scenario.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from '../../samples/section-form.ts';
import { movePoints } from '../../src/math/rigid.ts';
import { cross3, dot3, subtract3, type Vec3 } from '../../src/math/vec3.ts';

const CASES: [string, ForgedBlank][] = [
  ['shift', shiftBlank()],
  ['lost', lostBlank()],
  ['edges', edgesBlank()],
  ['hopeless', hopelessBlank()],
];
const finished = nominalBlade();
const pointAt = (positions: Float64Array, i: number): Vec3 => [...positions.subarray(3 * i, 3 * i + 3)] as Vec3;

describe('scans of blanks', () => {
  it.each(CASES)('%s: every point lies outside its blade by the field', (_name, blank) => {
    const scan = makeBlankScan(blank, { points: 2000 });
    for (let i = 0; i < 2000; i++) {
      const foot = distanceToBlade(blank.blade, ...pointAt(scan.cloud.positions, i));
      expect(Math.abs(foot.distance - blank.field(scan.piece[i], scan.t[i], scan.height[i]))).toBeLessThan(1e-9);
    }
  });

  it.each(CASES)('%s: noise goes along the own normal of the blank', (_name, blank) => {
    const still = makeBlankScan(blank, { points: 400, seed: 5 });
    const noisy = makeBlankScan(blank, { points: 400, seed: 5, noise: 0.01 });
    const [h, out] = [1e-5, new Float64Array(3)];
    const at = (i: number, dt: number, dz: number): Vec3 => {
      const place = { piece: still.piece[i] as Piece, t: still.t[i] + dt, height: still.height[i] + dz };
      blankPoint(blank, place, out);
      return [...out] as Vec3;
    };
    for (let i = 0; i < 400; i++) {
      if (still.piece[i] !== noisy.piece[i] || still.t[i] < h || still.t[i] > 1 - h) continue;
      const along = subtract3(at(i, h, 0), at(i, -h, 0));
      const up = subtract3(at(i, 0, h), at(i, 0, -h));
      const normal = cross3(along, up);
      const push = subtract3(pointAt(noisy.cloud.positions, i), pointAt(still.cloud.positions, i));
      const cosine = dot3(push, normal) / Math.hypot(...push) / Math.hypot(...normal);
      expect(Math.hypot(...push)).toBeCloseTo(Math.abs(noisy.added[i]), 12);
      expect(Math.abs(cosine)).toBeGreaterThan(1 - 1e-6);
    }
  });

  it('repeat themselves, have the stated noise and outliers, and undo their motion', () => {
    const options = { points: 20_000, seed: 3, noise: 0.01, outliers: 0.01, root: { points: 500 } };
    const scan = makeBlankScan(shiftBlank(), options);
    expect(makeBlankScan(shiftBlank(), options)).toEqual(scan);
    expect(makeBlankScan(shiftBlank(), { ...options, seed: 4 }).cloud).not.toEqual(scan.cloud);
    expect(scan.cloud.positions.length).toBe(3 * 20_500);
    const quiet = scan.added.filter((push) => Math.abs(push) < 0.1);
    const sigma = Math.sqrt(quiet.reduce((sum, push) => sum + push * push, 0) / quiet.length);
    expect(Math.abs(sigma / 0.01 - 1)).toBeLessThan(4 / Math.sqrt(2 * quiet.length));
    expect(scan.outlierCount).toBe(20_000 - quiet.length);
    expect(Math.abs(scan.outlierCount - 200)).toBeLessThan(4 * Math.sqrt(200));
    const moved = makeBlankScan(shiftBlank(), { ...options, pose: BLANK_POSE });
    const back = movePoints(BLANK_POSE, moved.cloud.positions);
    back.forEach((value, k) => {
      expect(Math.abs(value - scan.cloud.positions[k])).toBeLessThan(1e-11);
    });
  });

  it('are as dense at the edges as asked for', () => {
    const share = (edgeDensity: number) => {
      const { piece } = makeBlankScan(shiftBlank(), { points: 40_000, edgeDensity });
      return piece.filter((p) => p === LEADING || p === TRAILING).length / 40_000;
    };
    expect((share(5) * (1 - share(1))) / (share(1) * (1 - share(5)))).toBeCloseTo(5, 0);
  });

  it('carry a forged root that stands where the targets are, moved as planted', () => {
    const targets = rootTargets();
    const met = (motion?: typeof BLANK_ROOT_MOTION) => {
      const scan = makeBlankScan(shiftBlank(), { points: 1, root: { points: 40_000, ...(motion ? { motion } : {}) } });
      return targets.map(({ point, normal }) => {
        const near = [];
        for (let i = 1; i <= 40_000; i++) {
          const off = subtract3(pointAt(scan.cloud.positions, i), point);
          const along = dot3(off, normal);
          if (Math.hypot(...off) < 2 && Math.abs(along) < 0.5) near.push(along);
        }
        expect(near.length).toBeGreaterThan(10);
        return near.reduce((sum, value) => sum + value, 0) / near.length;
      });
    };
    for (const gap of met()) expect(Math.abs(gap)).toBeLessThan(1e-6);
    const gaps = met(BLANK_ROOT_MOTION);
    targets.forEach(({ point, normal }, i) => {
      const moved = movePoints(BLANK_ROOT_MOTION, Float64Array.from(point));
      expect(gaps[i]).toBeCloseTo(dot3(subtract3([...moved] as Vec3, point), normal), 2);
    });
  });
});

describe('stock of blanks', () => {
  it.each(CASES)(
    '%s: stock along the normal ends on the surface of the blank, also when it is moved',
    (_name, blank) => {
      for (const pose of [undefined, BLANK_ROOT_MOTION])
        for (const piece of [LEADING, PRESSURE, TRAILING, SUCTION] as const)
          for (const height of [8, 61, 112]) {
            const [x, y, z, nx, ny, nz] = nominalSurfacePoint(finished, { piece, t: 0.3, height });
            const reach = stockOnBlade(blank, finished, { piece, t: 0.3, height }, pose);
            const point = Float64Array.of(x + reach * nx, y + reach * ny, z + reach * nz);
            expect(distanceToBlade(finished, point[0], point[1], point[2]).distance).toBeCloseTo(reach, 10);
            const own = pose === undefined ? point : undo(pose, point);
            const foot = distanceToBlade(blank.blade, own[0], own[1], own[2]);
            expect(foot.distance).toBeCloseTo(blank.field(foot.piece, foot.t, foot.height), 10);
          }
    },
  );

  it('the mesh lies outside the finished blade by its field', () => {
    const field = forgedField(FORGED_STOCK);
    const { positions } = makeBlank({ rows: 31, columns: 100 });
    for (let i = 0; i < positions.length / 3; i++) {
      const foot = distanceToBlade(finished, ...pointAt(positions, i));
      expect(Math.abs(foot.distance - field(foot.piece, foot.t, foot.height))).toBeLessThan(1e-6);
    }
    const { stock, place } = leastStock({ blade: finished, field }, finished);
    const { flank, flankTaper, sideways, hollow, span } = FORGED_STOCK;
    const middle = flank + (flankTaper * hollow.height) / span - sideways - hollow.depth;
    expect(stock).toBeLessThan(middle);
    expect(stock).toBeCloseTo(middle, 4);
    expect(place).toMatchObject({ piece: SUCTION });
    expect(place.height).toBeCloseTo(hollow.height, 0);
  });

  it('areas below a level agree with a count of small tiles, and with the whole surface', () => {
    const field = forgedField(FORGED_STOCK);
    const tiles = { t: 700, z: 700 };
    const node = new Float64Array(7);
    const levels = [0.16, 0];
    const counted = levels.map(() => 0);
    for (let row = 0; row < tiles.z; row++) {
      const z = 50 + ((row + 0.5) * 44) / tiles.z;
      const form = formAt(finished, z);
      for (let i = 0; i < tiles.t; i++) {
        const t = 0.3 + ((i + 0.5) * 0.6) / tiles.t;
        const stock = field(SUCTION, t, z);
        if (stock >= levels[0]) continue;
        surfacePoint(form, SUCTION, t, z, node);
        levels.forEach((level, k) => {
          if (stock < level) counted[k] += (node[6] * 0.6 * 44) / tiles.t / tiles.z;
        });
      }
    }
    levels.forEach((level, k) => {
      expect(areaBelow(finished, field, level) / counted[k]).toBeCloseTo(1, 2.7);
    });
    const both =
      areaBelow(finished, (_piece, t) => (t < 0 ? -1 : 1), 0) + areaBelow(finished, (_p, t) => (t < 0 ? 1 : -1), 0);
    expect(both / areaBelow(finished, () => -1, 0)).toBeCloseTo(1, 10);
  });

  it('the near-net blank has its flanks in the band and metal at its edges; the hopeless one lacks a leading edge', () => {
    const blank = edgesBlank();
    for (let height = 0; height <= 120; height += 10) {
      for (const piece of [PRESSURE, SUCTION] as const)
        for (const t of [0.1, 0.3, 0.5, 0.7, 0.9])
          expect(Math.abs(stockOnBlade(blank, finished, { piece, t, height }))).toBeLessThan(0.045);
      for (const piece of [LEADING, TRAILING] as const) {
        const stock = stockOnBlade(blank, finished, { piece, t: 0, height });
        expect(stock).toBeGreaterThan(0.36);
        expect(stock).toBeLessThan(0.82);
      }
    }
    const lacking = stockOnBlade(hopelessBlank(), finished, { piece: LEADING, t: 0, height: 70 });
    expect(lacking).toBeLessThan(-0.14);
    expect(stockOnBlade(hopelessBlank(), finished, { piece: LEADING, t: 0, height: 40 })).toBeGreaterThan(0.4);
  });
});

function undo(pose: typeof BLANK_ROOT_MOTION, point: Float64Array): Float64Array {
  const [r, t] = [pose.rotation, pose.translation];
  const off = point.map((value, i) => value - t[i]);
  return off.map((_, i) => r[i] * off[0] + r[3 + i] * off[1] + r[6 + i] * off[2]);
}
