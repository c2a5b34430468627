import type { StockPoint } from './share-descent.ts';
import { rowChange, type StockRows } from './share-rows.ts';

/** Steps shorter than this teach nothing: the noise of the cells would be taken for a slope (mm). */
const LEAST_STEP = 0.005;

/** What steps have taught of the slopes of cells, besides the blank's motion along the normal: six a cell. */
export interface SlopeLesson {
  of: Float64Array;
  /** Steps learned from. */
  steps: number;
}

/** Returns the lesson of no step yet, for a number of cells. */
export function emptyLesson(cells: number): SlopeLesson {
  return { of: new Float64Array(6 * cells), steps: 0 };
}

/**
 * Learns from a step that was evaluated: the slope of each cell is changed along the step as far as its stock changed
 * otherwise than foretold (Broyden, Math. Comput. 19, 1965). Where the blank's surface leans against the finished one, a
 * cell finds other stock as the blank slides by; near edges that is much.
 */
export function learnSlopes(lesson: SlopeLesson, from: StockPoint, to: StockPoint): void {
  const step = to.values.map((value, k) => (value - from.values[k]) / from.rows.unit[k]);
  const square = step.reduce((sum, value) => sum + value * value, 0);
  if (square < LEAST_STEP * LEAST_STEP) return;
  lesson.steps++;
  const [a, b] = [from.rows, to.rows];
  for (let i = 0, j = 0; i < a.count; i++) {
    while (j < b.count && b.cell[j] < a.cell[i]) j++;
    if (j === b.count || b.cell[j] !== a.cell[i]) continue;
    const foretold = rowChange(a.slope, i, step) + rowChange(lesson.of, a.cell[i], step);
    const pull = (b.stock[j] - a.stock[i] - foretold) / square;
    for (let k = 0; k < 6; k++) lesson.of[6 * a.cell[i] + k] += pull * step[k];
  }
}

/** The rows with what has been learned of their slopes. */
export function taughtRows(rows: StockRows, lesson: SlopeLesson): StockRows {
  if (lesson.steps === 0) return rows;
  const slope = rows.slope.slice();
  for (let i = 0; i < rows.count; i++) for (let k = 0; k < 6; k++) slope[6 * i + k] += lesson.of[6 * rows.cell[i] + k];
  return { ...rows, slope };
}
