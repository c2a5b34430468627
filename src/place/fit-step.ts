import { leftJacobian, movePoints, rotationExp } from '../math/rigid.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Pose } from '../model/pose.ts';
import type { NominalSurface } from '../model/surface.ts';
import { emptyFeet, type Feet } from '../spatial/nominal-feet.ts';
import { balanceWeights, type Weighting } from './balance-weights.ts';
import { addRow, NORMAL_SIZE } from './normal-equations.ts';
import { poseAbout } from './pose-readings.ts';
import { type Robust, robustScale, robustWeight } from './robust-kernel.ts';

/** Total correction since the start: shift of the pivot (mm) and rotation vector about it (rad). */
export type Correction = Float64Array;

/** The measured points of one level of the fit and what is known of them at the present pose. */
export interface FitLevel {
  /** As measured (mm). */
  points: Float64Array;
  /** As placed by the start pose, then by the correction (mm). */
  started: Float64Array;
  moved: Float64Array;
  feet: Feet;
  used: Uint8Array;
  weights: Float64Array;
  sums: Float64Array;
  scale: number;
  /** Root mean square distance of the used points from the pivot (mm): makes a turn comparable with a shift. */
  length: number;
}

export function fitLevel(points: Float64Array, start: Pose): FitLevel {
  const count = points.length / 3;
  return {
    points,
    started: movePoints(start, points),
    moved: new Float64Array(points.length),
    feet: emptyFeet(count),
    used: new Uint8Array(count),
    weights: new Float64Array(count),
    sums: new Float64Array(NORMAL_SIZE),
    scale: 0,
    length: 1,
  };
}

/** Moves the level's points by the correction about the pivot. */
export function moveLevel(level: FitLevel, correction: Correction, pivot: Vec3): void {
  movePoints(correctionPose(correction, pivot), level.started, level.moved);
}

/** The correction as a motion. */
export function correctionPose(correction: Correction, pivot: Vec3): Pose {
  return poseAbout(rotationExp(correction.subarray(3)), correction.subarray(0, 3), pivot);
}

/** Marks the points with a foot inside the span, off its ends by `margin`, and within the gate; returns their number. */
export function markUsed(level: FitLevel, gate: number, heights: Float64Array, margin: number): number {
  const { feet, used } = level;
  const low = heights[0] + margin;
  const high = heights[heights.length - 1] - margin;
  let total = 0;
  for (let i = 0; i < used.length; i++) {
    const z = feet.height[i];
    used[i] = feet.border[i] === 0 && Math.abs(feet.deviation[i]) <= gate && z >= low && z <= high ? 1 : 0;
    total += used[i];
  }
  return total;
}

/** Fixes the balance of the points and the scale of the residuals about `offset`. */
export function weighLevel(
  level: FitLevel,
  surface: NominalSurface,
  weighting: Weighting,
  offset: number,
  leastScale: number,
  pivot: Vec3,
): void {
  level.weights = balanceWeights(surface, level.feet, level.used, weighting);
  level.scale = Math.max(leastScale, robustScale(level.feet.deviation, level.used, offset));
  let [squares, total] = [0, 0];
  for (let i = 0; i < level.used.length; i++) {
    if (!level.used[i]) continue;
    for (let c = 0; c < 3; c++) squares += (level.moved[3 * i + c] - pivot[c]) ** 2;
    total++;
  }
  level.length = total > 0 ? Math.sqrt(squares / total) : 1;
}

/**
 * Writes the normal equations of a change of the correction, turns scaled by the level's length:
 * d(d) = n·dv + (J(w)ᵀ (a × n))·dw with a the arm from the moved pivot. Sums run in the order of the points.
 */
export function sumLevel(level: FitLevel, correction: Correction, pivot: Vec3, robust: Robust, offset: number): void {
  const { moved, feet, used, weights, sums, scale, length } = level;
  const jacobian = leftJacobian(correction.subarray(3)).map((value) => value / length);
  const [j0, j1, j2, j3, j4, j5, j6, j7, j8] = jacobian;
  const [cx, cy, cz] = [0, 1, 2].map((c) => pivot[c] + correction[c]);
  sums.fill(0);
  for (let i = 0; i < used.length; i++) {
    if (!used[i]) continue;
    const k = 3 * i;
    const d = feet.deviation[i];
    const nx = feet.normal[k];
    const ny = feet.normal[k + 1];
    const nz = feet.normal[k + 2];
    const ax = moved[k] - cx;
    const ay = moved[k + 1] - cy;
    const az = moved[k + 2] - cz;
    const mx = ay * nz - az * ny;
    const my = az * nx - ax * nz;
    const mz = ax * ny - ay * nx;
    const weight = weights[i] * robustWeight(robust, d - offset, scale);
    if (weight === 0) continue;
    addRow(
      sums,
      nx,
      ny,
      nz,
      j0 * mx + j3 * my + j6 * mz,
      j1 * mx + j4 * my + j7 * mz,
      j2 * mx + j5 * my + j8 * mz,
      d,
      weight,
    );
  }
}
