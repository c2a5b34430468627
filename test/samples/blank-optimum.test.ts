import { beforeAll, describe, expect, it } from 'vitest';
import { nominalBlade } from '../../samples/blade.ts';
import { balanceOf, greatestLeast, motionRow } from '../../samples/blank-balance.ts';
import { type BalancedBlank, lostBlank, shiftBlank } from '../../samples/blank-cases.ts';
import { leastStock } from '../../samples/blank-least.ts';
import { makeBlankScan } from '../../samples/blank-scan.ts';
import { blankPoint } from '../../samples/blank-surface.ts';
import { distanceToBlade, nominalSurfacePoint } from '../../samples/deviation.ts';
import { SAMPLE_WANTED } from '../../samples/plan.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from '../../samples/section-form.ts';
import { leastSquares } from '../../src/math/least-squares.ts';
import { movePoints, rotationExp } from '../../src/math/rigid.ts';
import { simplexSearch } from '../../src/math/simplex-search.ts';
import type { Pose } from '../../src/model/pose.ts';
import { loadSolver, type Solve } from '../../src/place/linear-programme.ts';

const finished = nominalBlade();
const WANTED = SAMPLE_WANTED.affectedLayer + SAMPLE_WANTED.minimumChip + SAMPLE_WANTED.locating;
const CASES: [string, BalancedBlank][] = [
  ['shift', shiftBlank()],
  ['lost', lostBlank()],
];
let solve: Solve;
beforeAll(async () => {
  solve = await loadSolver();
});

/** Greatest μ with rows · motion ≥ μ − stock for motions within a trust region (mm, mm and rad × 50), Z held. */
function programme(rows: number[][], stock: number[], reach: number) {
  const n = rows.length;
  const size = [reach, reach, 0, reach / 50, reach / 50, reach / 50, 10];
  return solve({
    columns: 7,
    rows: n,
    cost: Float64Array.of(0, 0, 0, 0, 0, 0, -1),
    columnLower: Float64Array.from(size, (s) => -s),
    columnUpper: Float64Array.from(size),
    matrix: Float64Array.from(rows.flatMap((row) => [...row, -1])),
    rowLower: Float64Array.from(stock, (a) => -a),
    rowUpper: new Float64Array(n).fill(Infinity),
  });
}

/** Turn about the middle of the Z axis (rad × 50) and shift in x, y (mm) as a pose. */
function poseOfMotion(at: ArrayLike<number>): Pose {
  const rotation = rotationExp([at[2] / 50, at[3] / 50, at[4] / 50]);
  const half = finished.span / 2;
  return {
    rotation,
    translation: Float64Array.of(at[0] - half * rotation[2], at[1] - half * rotation[5], half * (1 - rotation[8])),
  };
}

/** Points of the blank: all over, and dense about its spots, those that can come near the least only. */
function pointsOf(blank: BalancedBlank): Float64Array {
  const points: number[] = [];
  const out = new Float64Array(3);
  const add = (piece: Piece, t: number, height: number) => {
    if (blank.field(piece, t, height) > blank.least + 0.15) return;
    blankPoint(blank, { piece, t, height }, out);
    points.push(...out);
  };
  for (let height = 0; height <= 120; height += 10)
    for (const piece of [LEADING, PRESSURE, TRAILING, SUCTION] as const)
      for (let t = 0; t <= 1; t += 0.2) add(piece, t, height);
  for (const { piece, t, height } of blank.spots)
    for (let i = -2; i <= 2; i++) for (let j = -2; j <= 2; j++) add(piece, t + 0.01 * i, height + j);
  return Float64Array.from(points);
}

describe.each(CASES)('%s', (name, blank) => {
  it('has its least stock at the spots and more everywhere else', () => {
    for (const { piece, t, height } of blank.spots) expect(blank.field(piece, t, height)).toBe(blank.least);
    for (let height = 0; height <= 120; height += 1.5)
      for (const piece of [LEADING, PRESSURE, TRAILING, SUCTION] as const)
        for (let t = piece === LEADING || piece === TRAILING ? -1 : 0; t <= 1; t += 0.025) {
          const near = blank.spots.some(
            (spot) => spot.piece === piece && Math.abs(spot.t - t) < 0.02 && Math.abs(spot.height - height) < 1.4,
          );
          if (!near) expect(blank.field(piece, t, height)).toBeGreaterThan(blank.least + 1e-4);
        }
  });

  it('is held by weights above 0 that cancel in all motions but along Z', () => {
    const { weights, perMillimetreUp } = balanceOf(blank);
    const rows = blank.spots.map((spot) => motionRow(finished, spot));
    expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
    for (const weight of weights) expect(weight).toBeGreaterThan(0.05);
    for (const axis of [0, 1, 3, 4, 5])
      expect(Math.abs(weights.reduce((sum, weight, i) => sum + weight * rows[i][axis], 0))).toBeLessThan(1e-9);
    expect(weights.reduce((sum, weight, i) => sum + weight * rows[i][2], 0)).toBeCloseTo(perMillimetreUp, 12);
    const { cost, rowDual } = programme(
      rows,
      rows.map(() => blank.least),
      1,
    );
    expect(-cost).toBeCloseTo(blank.least, 9);
    rowDual.forEach((dual, i) => {
      expect(Math.abs(dual)).toBeCloseTo(weights[i], 6);
    });
  });

  it('a search without derivatives on exact distances finds the same least stock, and none above it', () => {
    const points = pointsOf(blank);
    const moved = new Float64Array(points.length);
    const distances = new Float64Array(points.length / 3);
    /** Least distance at a motion, rounded off over `soft` mm so that a simplex can follow it. */
    const least = (at: ArrayLike<number>, soft: number): number => {
      movePoints(poseOfMotion(at), points, moved);
      for (let i = 0; i < distances.length; i++)
        distances[i] = distanceToBlade(finished, moved[3 * i], moved[3 * i + 1], moved[3 * i + 2]).distance;
      const lowest = Math.min(...distances);
      if (soft === 0) return lowest;
      return lowest - soft * Math.log(distances.reduce((sum, d) => sum + Math.exp((lowest - d) / soft), 0));
    };
    expect(least([0, 0, 0, 0, 0], 0)).toBeCloseTo(blank.least, 9);
    let at = Float64Array.of(0.05, -0.07, 0.06, -0.04, 0.08);
    expect(least(at, 0)).toBeLessThan(blank.least - 0.005);
    for (const soft of [3e-3, 1e-3, 3e-4, 1e-4, 1e-5, 1e-6]) {
      const steps = new Float64Array(5).fill(20 * soft);
      at = Float64Array.from(simplexSearch((motion) => -least(motion, soft), at, steps, 1e-10, 250).at);
    }
    expect(least(at, 0)).toBeLessThan(blank.least + 1e-6);
    expect(least(at, 0)).toBeGreaterThan(blank.least - 1e-6);
  });

  it('farther up the span the optimum is that of the programme on the exact stock there', () => {
    const { perMillimetreUp } = balanceOf(blank);
    for (const up of [-1, 1]) {
      const { least, pose } = greatestLeast(blank, up);
      expect((least - blank.least) / up).toBeCloseTo(perMillimetreUp, 3);
      expect(leastStock(blank, finished, pose).stock).toBeCloseTo(least, 6);
      expect(movePoints(pose, Float64Array.of(0, 0, 60))[2]).toBeCloseTo(60 + up, 3);
      const points = pointsOf(blank);
      const moved = movePoints(pose, points);
      const [rows, stock]: [number[][], number[]] = [[], []];
      for (let i = 0; i < moved.length; i += 3) {
        const foot = distanceToBlade(finished, moved[i], moved[i + 1], moved[i + 2]);
        rows.push(motionRow(finished, foot));
        stock.push(foot.distance);
      }
      // Points stand 1 mm apart about the spots, so their least lies a little above that of the whole surface.
      const best = -programme(rows, stock, 0.05).cost;
      expect(best).toBeGreaterThan(least - 1e-6);
      expect(best).toBeLessThan(least + 0.0005);
    }
  });

  it(`${name === 'shift' ? 'cleans up, but not' : 'does not clean up, nor'} where a best fit about the mean stock puts it`, () => {
    if (name === 'shift') expect(blank.least).toBeGreaterThan(WANTED + 0.1);
    else expect(blank.least).toBeLessThan(WANTED - 0.05);
    expect(leastStock(blank, finished, evenFit(blank)).stock).toBeLessThan(WANTED - 0.03);
  });
});

/** Least squares of the stock about its mean in the five motions without Z. */
function evenFit(blank: BalancedBlank): Pose {
  const { positions } = makeBlankScan(blank, { points: 700, from: 0, to: 120 }).cloud;
  const fit = leastSquares(
    new Float64Array(6),
    700,
    (motion, residual, derivative) => {
      const moved = movePoints(poseOfMotion(motion), positions);
      for (let i = 0; i < 700; i++) {
        const foot = distanceToBlade(finished, moved[3 * i], moved[3 * i + 1], moved[3 * i + 2]);
        const row = motionRow(finished, foot);
        residual[i] = foot.distance - motion[5];
        derivative.set([row[0], row[1], row[3] / 50, row[4] / 50, row[5] / 50, -1], 6 * i);
      }
      return true;
    },
    undefined,
    [1, 1, 1, 1, 1, 1],
  );
  return poseOfMotion(fit!.parameters);
}

it('the lost blank is thin on both sides of the same places', () => {
  const { spots } = lostBlank();
  for (let i = 0; i < spots.length; i += 2) {
    const [a, b] = [nominalSurfacePoint(finished, spots[i]), nominalSurfacePoint(finished, spots[i + 1])];
    expect(a[3] * b[3] + a[4] * b[4] + a[5] * b[5]).toBeLessThan(-0.98);
    expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(4);
    expect(a[2]).toBe(b[2]);
  }
});
