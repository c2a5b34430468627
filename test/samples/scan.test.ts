import { describe, expect, it } from 'vitest';
import { nominalBlade } from '../../samples/blade.ts';
import { makeBlank } from '../../samples/blank.ts';
import { distanceToBlade, exactDeviation } from '../../samples/deviation.ts';
import { ROOT_BLOCK } from '../../samples/root-block.ts';
import { makeScan } from '../../samples/scan.ts';
import { poseOf } from '../../samples/scenario.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from '../../samples/section-form.ts';
import { makeMesh } from '../../samples/tessellate.ts';
import { movePoints } from '../../src/math/rigid.ts';
import type { Mesh } from '../../src/model/shape.ts';

function openEdgesAndVolume(mesh: Mesh): { open: number; volume: number } {
  const edges = new Set<string>();
  let volume = 0;
  const at = (i: number) => mesh.positions.subarray(3 * i, 3 * i + 3);
  for (let k = 0; k < mesh.triangles.length; k += 3) {
    const [i, j, l] = mesh.triangles.subarray(k, k + 3);
    for (const [from, to] of [
      [i, j],
      [j, l],
      [l, i],
    ])
      edges.add(`${from},${to}`);
    const [a, b, c] = [at(i), at(j), at(l)];
    volume +=
      a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  const open = [...edges].filter((edge) => !edges.has(edge.split(',').reverse().join(','))).length;
  return { open: open + mesh.triangles.length - edges.size, volume: volume / 6 };
}

describe('the sample scan', () => {
  it('repeats itself for a seed and changes with it', () => {
    const first = makeScan({ points: 500, noise: 0.01, outliers: 0.01, seed: 3 });
    expect(makeScan({ points: 500, noise: 0.01, outliers: 0.01, seed: 3 })).toEqual(first);
    expect(makeScan({ points: 500, noise: 0.01, outliers: 0.01, seed: 4 }).cloud).not.toEqual(first.cloud);
  });

  it('has the stated noise along the normal and the stated share of outliers', () => {
    const scan = makeScan({ points: 20_000, noise: 0.005, outliers: 0.02, seed: 11 });
    const distances = exactDeviation(scan.cloud.positions.subarray(0, 3 * 2000), nominalBlade());
    distances.forEach((distance, i) => {
      if (Math.abs(scan.added[i]) < 0.1) expect(Math.abs(distance - scan.added[i])).toBeLessThan(1e-10);
    });
    const quiet = scan.added.filter((push) => Math.abs(push) < 0.1);
    const sigma = Math.sqrt(quiet.reduce((sum, push) => sum + push * push, 0) / quiet.length);
    expect(Math.abs(sigma / 0.005 - 1)).toBeLessThan(4 / Math.sqrt(2 * quiet.length));
    expect(scan.outlierCount).toBe(20_000 - quiet.length);
    expect(Math.abs(scan.outlierCount - 400)).toBeLessThan(4 * Math.sqrt(400));
  });

  it('spreads points by area and denser at the edges on request', () => {
    const even = makeScan({ points: 40_000 });
    const dense = makeScan({ points: 40_000, edgeDensity: 5 });
    const share = (scan: typeof even) =>
      scan.piece.filter((piece) => piece === LEADING || piece === TRAILING).length / 40_000;
    const flanks = (1 - share(dense)) / (1 - share(even));
    expect(share(dense) / share(even) / flanks).toBeCloseTo(5, 0);
  });

  it('keeps shadows empty and undoes its motion', () => {
    const pose = poseOf([20, -100, 55], [3, 4, 5]);
    const shadow = { piece: PRESSURE as Piece, fromT: 0.2, toT: 0.6, fromHeight: 30, toHeight: 50 };
    const scan = makeScan({ points: 5000, pose, shadows: [shadow], normals: true });
    const inside = scan.piece.filter(
      (piece, i) =>
        piece === PRESSURE && scan.t[i] > 0.2 && scan.t[i] < 0.6 && scan.height[i] > 30 && scan.height[i] < 50,
    );
    expect(inside.length).toBe(0);
    const back = exactDeviation(movePoints(pose, scan.cloud.positions), nominalBlade());
    for (const distance of back) expect(Math.abs(distance)).toBeLessThan(1e-10);
  });
});

describe('the sample meshes', () => {
  it.each([
    ['aerofoil', {}],
    ['elliptic edges', { blade: nominalBlade({ ratio: 3 }) }],
    ['with root', { root: ROOT_BLOCK }],
  ])('%s: closed, outward', (_name, options) => {
    const { open, volume } = openEdgesAndVolume(makeMesh({ rows: 31, columns: 120, ...options }));
    expect(open).toBe(0);
    expect(volume).toBeGreaterThan(6000);
  });

  it('puts the blank outside the finished blade by the stock field, and inside it in the hollow', () => {
    const blank = makeBlank({ rows: 61, columns: 100 });
    let least = { distance: Infinity, piece: LEADING as Piece, t: 0, height: 0 };
    for (let i = 0; i < blank.positions.length; i += 3) {
      const [x, y, z] = blank.positions.subarray(i, i + 3);
      const foot = distanceToBlade(nominalBlade(), x, y, z);
      if (foot.distance < least.distance) least = foot;
    }
    expect(least.piece).toBe(SUCTION);
    expect(least.distance).toBeCloseTo(-0.06, 2);
    expect(least.height).toBeCloseTo(72, 6);
  });
});
