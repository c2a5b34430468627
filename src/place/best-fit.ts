import { composePoses } from '../math/rigid.ts';
import type { Vec3 } from '../math/vec3.ts';
import { breathe, type RunContext } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import { mortonOrder } from '../spatial/morton-order.ts';
import { type Feet, followFeet, nominalFeet } from '../spatial/nominal-feet.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import type { Weighting } from './balance-weights.ts';
import { nominalSize } from './coarse-pose.ts';
import { type FitCoverage, fitCoverage } from './fit-coverage.ts';
import { type FitResidual, fitResidual, type LeftOut, leftOutOf } from './fit-residual.ts';
import { correctionPose, type FitLevel, fitLevel, markUsed, moveLevel, sumLevel, weighLevel } from './fit-step.ts';
import { offsetAfter, offsetIsSeen, solveStep, withoutOffset } from './normal-equations.ts';
import { findPlays, type Play } from './plays.ts';
import type { Robust } from './robust-kernel.ts';
import { breakSecant, secantMemory, secantStep } from './secant-steps.ts';

export type Lock = 'x' | 'y' | 'z' | 'rx' | 'ry' | 'rz';
export const LOCKS: readonly Lock[] = ['x', 'y', 'z', 'rx', 'ry', 'rz'];

/** Finds the feet of points in the nominal's frame; a caller may spread the work, each answer depends on its point alone. */
export type RelatePoints = (points: Float64Array, feet: Feet, maxDistance: number) => Promise<void> | void;

export interface BestFitOptions {
  /** Motions held at the start pose: shifts of the pivot and turns about it, nominal axes. */
  locks: readonly Lock[];
  /** Pivot in the nominal frame (mm); null is the Z axis at mid-span. */
  pivot: Vec3 | null;
  weights: Weighting;
  robust: Robust;
  /** Points farther from the nominal are left out (mm); null is 1 % of the nominal's size. */
  gate: number | null;
  /** Lets the part be larger or smaller all round, so that extra material does not push it along the span. */
  oversize: boolean;
  /** Most steps of the last level; 0 judges the start pose as it is. */
  steps: number;
}

export const BEST_FIT_DEFAULTS: BestFitOptions = {
  locks: [],
  pivot: null,
  weights: 'area',
  robust: 'tukey',
  gate: null,
  oversize: false,
  steps: 20,
};

export interface BestFit {
  /** Measured → nominal. */
  pose: Pose;
  pivot: Vec3;
  locks: Lock[];
  /** How much larger the part is all round (mm); 0 unless asked for and seen. */
  offset: number;
  residual: FitResidual;
  /** The six plays, weakest first. */
  plays: Play[];
  /** Of the pose at the pivot, [v (mm), w (rad)], row-major 6 × 6; null where a motion is not held. */
  covariance: Float64Array | null;
  /** Length that makes a turn comparable with a shift (mm). */
  length: number;
  iterations: number;
  converged: boolean;
  leftOut: LeftOut;
  coverage: FitCoverage;
  /** Distance beyond which points were left out (mm). */
  gate: number;
}

/** The last level: points spread evenly along a space-filling curve, beyond which the pose gains less than form costs. */
const FIT_POINTS = 300_000;
/** Sizes of the levels before the last. */
const LEVELS = [2_000, 20_000, 100_000];
const LEVEL_STEPS = 25;
const GATE_SHARE = 0.01;
/** Steps after which a level's weights and choice of points stay. */
const SETTLING = 3;
/** Feet nearer to an end of the span than this share of the size are left out, so that none crosses it in the last steps. */
const END_MARGIN = 5e-5;
/** After a step smaller than this share of the size the feet are followed instead of searched. */
const NEAR = 1e-4;
/** Smallest scale of the residuals, share of the size. */
const SCALE_LEAST = 1e-6;
/** A fit has converged when a step is below this, in lengths and radians. */
const CONVERGED = { shift: 1e-7, turn: 1e-8 };

/**
 * Returns the best fit of measured points to the smooth nominal: least weighted squares of the exact signed distances,
 * by Gauss-Newton steps with the exact exponential update on 2 000, 20 000, 100 000, then up to 300 000 points. Huber's weights lead to the
 * first optimum, Tukey's from there on. Points at an end of the span or beyond the gate are left out. The sums run in a
 * fixed order, so the answer does not depend on how `relate` spreads its work.
 *
 * @param points x0, y0, z0, … as measured (mm)
 * @param start pose to start from, measured → nominal
 */
export async function bestFit(
  target: NominalTarget,
  points: Float64Array,
  start: Pose,
  options: Partial<BestFitOptions> = {},
  context: RunContext = {},
  relate: RelatePoints = (moved, feet, most) => nominalFeet(target, moved, null, 0, feet.border.length, feet, most),
): Promise<BestFit> {
  const settings = { ...BEST_FIT_DEFAULTS, ...options };
  const size = nominalSize(target);
  const gate = settings.gate ?? GATE_SHARE * size;
  const { heights } = target.surface;
  const pivot: Vec3 = settings.pivot ?? [0, 0, (heights[0] + heights[heights.length - 1]) / 2];
  const free = LOCKS.map((lock) => (settings.locks.includes(lock) ? 0 : 1));
  const order = mortonOrder(points);
  const correction = new Float64Array(6);
  const offset = { value: 0, free: false };
  const stays = settings.steps === 0;
  const most = Math.min(order.length, FIT_POINTS);
  const sizes = [...(stays ? [] : LEVELS.filter((n) => 2 * n < most)), most];
  let iterations = 0;
  let level = fitLevel(new Float64Array(0), start);
  let converged = false;
  const memory = secantMemory();
  for (const [rank, wanted] of sizes.entries()) {
    level = fitLevel(strided(points, order, wanted), start);
    const last = rank === sizes.length - 1;
    converged = false;
    let robust: Robust = rank === 0 && !stays && settings.robust === 'tukey' ? 'huber' : settings.robust;
    let settled = 0;
    const settling = last && rank > 0 ? 2 : SETTLING;
    breakSecant(memory);
    let lastShift = 0;
    for (let step = 0; step < (last && rank > 0 ? settings.steps : LEVEL_STEPS) && !converged; step++) {
      moveLevel(level, correction, pivot);
      if (step > 0 && lastShift < NEAR * size) followFeet(target, level.moved, 0, level.feet.border.length, level.feet);
      else await relate(level.moved, level.feet, rank === 0 && !stays ? 2 * gate : gate);
      await breathe(context);
      if (settled < settling) {
        const margin = Math.max(END_MARGIN * size, 2 * lastShift);
        if (markUsed(level, rank === 0 && step < settling && !stays ? 2 * gate : gate, heights, margin) === 0) break;
        weighLevel(level, target.surface, settings.weights, offset.value, SCALE_LEAST * size, pivot);
      } else keepUsed(level);
      sumLevel(level, correction, pivot, robust, offset.value);
      if (stays) {
        converged = true;
        break;
      }
      const plain = changeOf(level, free, settings.oversize, offset, size);
      if (plain === null) break;
      const unit = (c: number) => (c < 3 ? 1 : 1 / size);
      const scaled = correction.map((value, c) => value / unit(c));
      const move =
        settled >= settling
          ? secantStep(
              memory,
              scaled,
              plain.map((v, c) => v / unit(c)),
            )
          : null;
      for (let c = 0; c < 6; c++) correction[c] += move ? move[c] * unit(c) : plain[c];
      iterations++;
      settled++;
      const shift = Math.hypot(plain[0], plain[1], plain[2]);
      lastShift = shift;
      const turn = Math.hypot(plain[3], plain[4], plain[5]);
      const loose = last ? 1 : rank === sizes.length - 2 ? 10 : 1e3;
      if (shift < loose * CONVERGED.shift * level.length && turn < loose * CONVERGED.turn) {
        if (robust === settings.robust) converged = true;
        else {
          robust = settings.robust;
          settled = 0;
          breakSecant(memory);
        }
      }
      context.onProgress?.({ step: 'best fit', done: rank + Math.min(0.9, step / LEVEL_STEPS), total: sizes.length });
    }
  }
  moveLevel(level, correction, pivot);
  const { plays, covariance } = findPlays(level, target.surface, correction, pivot, settings.robust, offset, free);
  return {
    pose: composePoses(correctionPose(correction, pivot), start),
    pivot,
    locks: [...settings.locks],
    offset: offset.value,
    residual: fitResidual(level, settings.robust, offset.value),
    plays,
    covariance,
    length: level.length,
    iterations,
    converged,
    leftOut: leftOutOf(level, target.surface, settings.robust, offset.value, gate),
    coverage: fitCoverage(level, target.surface),
    gate,
  };
}

/** The points a level takes: evenly strided along a space-filling curve. */
function strided(points: Float64Array, order: Uint32Array, wanted: number): Float64Array {
  const count = Math.min(order.length, wanted);
  const out = new Float64Array(3 * count);
  for (let k = 0; k < count; k++) {
    const i = order[Math.floor(((k + 0.5) * order.length) / count)];
    out[3 * k] = points[3 * i];
    out[3 * k + 1] = points[3 * i + 1];
    out[3 * k + 2] = points[3 * i + 2];
  }
  return out;
}

/** Once settled the points stay the same, but for those whose foot is lost. */
function keepUsed(level: FitLevel): void {
  for (let i = 0; i < level.used.length; i++) if (level.feet.border[i] === 2) level.used[i] = 0;
}

/** The change of the correction [v, w] by one step; null where the points hold nothing. */
function changeOf(
  level: FitLevel,
  free: number[],
  oversize: boolean,
  offset: { value: number; free: boolean },
  size: number,
): Float64Array | null {
  offset.free = oversize && offsetIsSeen(level.sums);
  const sums = offset.free ? withoutOffset(level.sums) : level.sums;
  const move = solveStep(sums, 0, free) ?? solveStep(sums, 1e-6, free);
  if (move === null) return null;
  const most = Math.hypot(...move);
  const scale = Math.min(1, (0.05 * size) / (most + 1e-300));
  const step = move.map((value) => value * scale);
  offset.value = offset.free ? offsetAfter(level.sums, step) : 0;
  for (let c = 3; c < 6; c++) step[c] /= level.length;
  return step;
}
