import { identityPose } from '../math/rigid.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Pose } from '../model/pose.ts';
import type { StockCells, StockZone } from '../model/stock-cells.ts';
import type { SpareCurve } from '../model/stock-results.ts';
import type { RotationOrder } from './pose-readings.ts';
import { AXES, type AxisRanges, valuesOfPose } from './share-axes.ts';
import { cellDistance, cellMoment, type StockRows, spareOf, stockRows } from './share-rows.ts';

/** A small motion of the blank: shift of the pivot along, and turn about it on, x, y, z (mm, rad). */
export interface CellMotion {
  pivot: Vec3;
  motion: ArrayLike<number>;
}

/**
 * Writes the stock of every cell after a small motion, linear in it: a + n·v + ((q − c) × n)·w with q the blank's point
 * above the cell. Returns `out` (mm; NaN where not measured).
 */
export function trialCells(
  cells: StockCells,
  pivot: Vec3,
  motion: ArrayLike<number>,
  out: Float64Array = new Float64Array(cells.count),
): Float64Array {
  const { normal: n, stock, count } = cells;
  const [vx, vy, vz, wx, wy, wz] = [0, 1, 2, 3, 4, 5].map((k) => motion[k]);
  const moment: Vec3 = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const k = 3 * i;
    cellMoment(cells, i, pivot, moment);
    out[i] = stock[i] + n[k] * vx + n[k + 1] * vy + n[k + 2] * vz + moment[0] * wx + moment[1] * wy + moment[2] * wz;
  }
  return out;
}

/**
 * Returns the least spare stock (stock − wanted) / weight (mm) over the measured cells of zones, and its cell; NaN and −1
 * where there is none.
 * @param trial motion the cells are judged after; absent: as they are
 * @param factor times the standard uncertainty of a cell's stock that is wanted besides the zone's least
 */
export function leastSpare(
  cells: StockCells,
  zones: readonly StockZone[],
  trial?: CellMotion,
  factor = 0,
): { spare: number; cell: number } {
  const stock = trial ? trialCells(cells, trial.pivot, trial.motion) : cells.stock;
  const { zone, count } = cells;
  let spare = Number.POSITIVE_INFINITY;
  let cell = -1;
  for (let i = 0; i < count; i++) {
    if (zone[i] < 0) continue;
    const value = spareOf(stock[i], cells, i, zones, factor);
    if (value < spare) [spare, cell] = [value, i];
  }
  return cell < 0 ? { spare: Number.NaN, cell } : { spare, cell };
}

/** About which pivot and over which values the curves are drawn. */
export interface CurveOptions {
  pivot: Vec3;
  rotationOrder: RotationOrder;
  /** Allowed values of the axes; absent: 0.5 mm and 0.5° either way of now. */
  ranges?: AxisRanges;
  /** Placement the values count from; absent: the nominal's own place, so that values are those of the pose. */
  from?: Pose;
  /** See {@link leastSpare}. */
  factor?: number;
  /** Points of a curve; absent: 41. */
  points?: number;
}

const REACH = 0.5;

/**
 * Returns for each axis the least spare stock against the value of that axis, the others held, from stock linear in it:
 * concave, in straight pieces. Empty where nothing is measured.
 * @param pose the placement the cells were measured in
 * @throws `plan/value` for a zone whose share is not positive
 */
export function spareCurves(
  cells: StockCells,
  zones: readonly StockZone[],
  pose: Pose,
  options: CurveOptions,
): SpareCurve[] {
  const { pivot, rotationOrder, ranges = {}, from = identityPose(), factor = 0, points = 41 } = options;
  const values = valuesOfPose(pose, { from, pivot, rotationOrder });
  const rows = stockRows(cells, zones, values, { pivot, rotationOrder }, cellDistance(cells, pivot), factor);
  if (rows.count === 0) return [];
  return AXES.map((axis, k): SpareCurve => {
    const now = values[k];
    const [low, high] = ranges[axis] ?? [now - REACH, now + REACH];
    const lines = axisLines(rows, k);
    const at = Array.from({ length: points }, (_, i) => low + ((high - low) * i) / (points - 1));
    return {
      axis,
      now,
      best: now + bestOffset(lines, low - now, high - now),
      values: at,
      spare: curveOf(
        lines,
        at.map((value) => value - now),
      ),
    };
  });
}

/** Spare of every row as a line over the change of one axis. */
interface Lines {
  spare: Float64Array;
  slope: Float64Array;
}

function axisLines(rows: StockRows, axis: number): Lines {
  const slope = rows.spare.map((_, i) => rows.slope[6 * i + axis] / rows.unit[axis] / rows.zones[rows.zone[i]].weight);
  return { spare: rows.spare, slope };
}

function lowest({ spare, slope }: Lines, offset: number): { spare: number; line: number } {
  let line = 0;
  for (let i = 1; i < spare.length; i++)
    if (spare[i] + slope[i] * offset < spare[line] + slope[line] * offset) line = i;
  return { spare: spare[line] + slope[line] * offset, line };
}

/** Lowest of lines at rising offsets; between two where it is the same line, it is that line throughout. */
function curveOf(lines: Lines, offsets: number[]): number[] {
  const at = new Map<number, number>();
  const lineAt = (k: number): number => {
    const known = at.get(k) ?? lowest(lines, offsets[k]).line;
    at.set(k, known);
    return known;
  };
  const fill = (from: number, to: number): void => {
    if (to - from < 2) return;
    const line = lineAt(from);
    if (line === lineAt(to)) {
      for (let k = from + 1; k < to; k++) at.set(k, line);
      return;
    }
    const middle = (from + to) >> 1;
    fill(from, middle);
    fill(middle, to);
  };
  fill(0, offsets.length - 1);
  return offsets.map((offset, k) => lines.spare[lineAt(k)] + lines.slope[lineAt(k)] * offset);
}

/** Where the lowest of lines is highest: the crossing of a rising and a falling line, cut by cut (Kelley 1960). */
function bestOffset(lines: Lines, low: number, high: number): number {
  const { spare, slope } = lines;
  let rising = lowest(lines, low).line;
  let falling = lowest(lines, high).line;
  if (slope[rising] <= 0) return low;
  if (slope[falling] >= 0) return high;
  for (;;) {
    const crossing = (spare[falling] - spare[rising]) / (slope[rising] - slope[falling]);
    const { spare: least, line } = lowest(lines, crossing);
    if (least >= spare[rising] + slope[rising] * crossing - 1e-12) return crossing;
    if (slope[line] > 0) rising = line;
    else falling = line;
  }
}
