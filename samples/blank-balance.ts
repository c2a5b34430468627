import { leastSquares } from '../src/math/least-squares.ts';
import { composePoses, movePoint, rotationExp } from '../src/math/rigid.ts';
import { symmetricEigen } from '../src/math/symmetric-eigen.ts';
import type { Pose } from '../src/model/pose.ts';
import { type BladeLaw, nominalBlade } from './blade.ts';
import type { BalancedBlank } from './blank-cases.ts';
import { leastNear } from './blank-least.ts';
import { type BladePlace, nominalSurfacePoint } from './deviation.ts';

/** Row of a small motion of the blank at a place: what its shift x, y, z and its turn about the Z axis' middle add to the stock. */
export function motionRow(blade: BladeLaw, place: BladePlace): number[] {
  const [x, y, z, nx, ny, nz] = nominalSurfacePoint(blade, place);
  const up = z - blade.span / 2;
  return [nx, ny, nz, y * nz - up * ny, up * nx - x * nz, x * ny - y * nx];
}

/** How six spots hold a placement with Z locked. */
export interface Balance {
  /** Share of each spot in the hold, above 0; they sum to 1. */
  weights: number[];
  /** Least stock gained for each millimetre the blank stands farther up the span. */
  perMillimetreUp: number;
}

/**
 * The weights with which the spots' normals and torques cancel in the five motions that leave Z alone: positive weights
 * prove that no such motion adds stock at all spots (the dual of the greatest least stock). Null vector of the 6 × 5 rows.
 */
export function balanceOf(blank: BalancedBlank): Balance {
  const rows = blank.spots.map((spot) => motionRow(blank.blade, spot));
  const n = rows.length;
  const gram = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      for (let a = 0; a < 6; a++) if (a !== 2) gram[n * i + j] += rows[i][a] * rows[j][a] * (a < 3 ? 1 : 1e-3);
  const weights = [...symmetricEigen(gram, n).vectors.subarray(0, n)];
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const shares = weights.map((weight) => weight / total);
  return { weights: shares, perMillimetreUp: shares.reduce((sum, share, i) => sum + share * rows[i][2], 0) };
}

/** The placement of most even stock with the blank held farther up the span. */
export interface HeldPlacement {
  /** Least stock there, as much at each spot (mm). */
  least: number;
  /** Blank's own frame → frame of the finished blade. */
  pose: Pose;
}

/**
 * Returns the greatest least stock of a balanced blank whose middle stands `up` mm farther up the span than in its own
 * frame: the five other motions that make the stock about all six spots equal, by Newton with the least stock about each
 * spot searched anew.
 */
export function greatestLeast(blank: BalancedBlank, up: number): HeldPlacement {
  const finished = nominalBlade();
  let pose = moved([0, 0, 0], [0, 0, up], finished);
  let least = 0;
  for (let round = 0; round < 8; round++) {
    const found = blank.spots.map(({ piece, t, height }) => leastNear(blank, finished, { piece, t, height }, pose));
    const rows = found.map(({ place }) => motionRow(finished, place));
    const step = leastSquares(
      new Float64Array(6),
      found.length,
      (unknown, residual, derivative) => {
        found.forEach(({ stock }, i) => {
          const row = [...rows[i].filter((_, axis) => axis !== 2), -1];
          residual[i] = row.reduce((sum, value, k) => sum + value * unknown[k], stock);
          derivative.set(row, 6 * i);
        });
        return true;
      },
      undefined,
      [1, 1, 0.01, 0.01, 0.01, 1],
    );
    if (step === null) break;
    const [x, y, a, b, c, value] = step.parameters;
    least = value;
    if (Math.hypot(x, y, 50 * a, 50 * b, 50 * c) < 1e-9) break;
    pose = composePoses(moved([a, b, c], [x, y, 0], finished), pose);
  }
  return { least, pose };
}

/** A turn about the middle of the Z axis and a shift (mm, rad). */
function moved(turn: number[], shift: number[], { span }: BladeLaw): Pose {
  const rotation = rotationExp(turn);
  const about = movePoint({ rotation, translation: new Float64Array(3) }, [0, 0, span / 2]);
  return { rotation, translation: Float64Array.from(shift, (value, i) => value + (i === 2 ? span / 2 : 0) - about[i]) };
}
