import type { Programme, ProgrammeSolution } from './linear-programme.ts';
import { solveSmall } from './solve-small.ts';

const STEPS = 80;
/** Complementarity and residuals at which the programme is solved. */
const GAP = 1e-11;
const RESIDUAL = 1e-9;

/**
 * Returns the minimum of c·x + ½ xᵀHx over rows with lower bounds and bounded columns, by the primal-dual interior point
 * method with predictor and corrector (Mehrotra, SIAM J. Optim. 2, 1992). Columns whose bounds meet are held there.
 * @param hessian columns × columns, symmetric and positive definite
 */
export function interiorPoint(programme: Programme, hessian: Float64Array): ProgrammeSolution {
  const { columns, rows } = programme;
  const free = Array.from({ length: columns }, (_, c) => c).filter(
    (c) => programme.columnLower[c] < programme.columnUpper[c],
  );
  const n = free.length;
  const x = programme.columnLower.map((low, c) => (free.includes(c) ? 0 : low));
  const { g, h } = inequalities(programme, free, x);
  const m = h.length;
  const slope = (c: number) => x.reduce((sum, value, k) => sum + hessian[columns * c + k] * value, programme.cost[c]);
  const room = h.map((value) => Math.max(-value, 1e-4));
  const dual = new Float64Array(m).fill(1e-4);
  const dx = new Float64Array(n);
  const [dRoom, dDual, primal] = [new Float64Array(m), new Float64Array(m), new Float64Array(m)];
  let status: ProgrammeSolution['status'] = 'failed';
  for (let round = 0; round < STEPS && status === 'failed'; round++) {
    for (let i = 0; i < m; i++) primal[i] = rowTimes(g, i, n, (a) => x[free[a]]) - room[i] - h[i];
    const residual = Float64Array.from(free, (c, a) => slope(c) - columnTimes(g, a, n, dual));
    const gap = m > 0 ? dot(room, dual) / m : 0;
    if (gap < GAP && greatest(primal) < RESIDUAL && greatest(residual) < RESIDUAL) status = 'optimal';
    const matrix = new Float64Array(n * n);
    for (let a = 0; a < n; a++)
      for (let b = 0; b < n; b++) {
        let sum = hessian[columns * free[a] + free[b]];
        for (let i = 0; i < m; i++) sum += (dual[i] / room[i]) * g[n * i + a] * g[n * i + b];
        matrix[n * a + b] = sum;
      }
    /** Sets the Newton step that brings room × dual to a target; false where there is none. */
    const aim = (target: (i: number) => number): boolean => {
      const pull = room.map((value, i) => (target(i) - dual[i] * primal[i]) / value - dual[i]);
      const solved = solveSmall(
        matrix,
        residual.map((value, a) => columnTimes(g, a, n, pull) - value),
        n,
      );
      if (solved === null) return false;
      dx.set(solved);
      for (let i = 0; i < m; i++) {
        const change = rowTimes(g, i, n, (a) => dx[a]);
        dRoom[i] = change + primal[i];
        dDual[i] = pull[i] - (dual[i] / room[i]) * change;
      }
      return true;
    };
    if (!aim(() => 0)) break;
    const reach = Math.min(furthest(room, dRoom), furthest(dual, dDual));
    let after = 0;
    for (let i = 0; i < m; i++) after += (room[i] + reach * dRoom[i]) * (dual[i] + reach * dDual[i]);
    const centre = gap > 0 ? gap * (after / m / gap) ** 3 : 0;
    const bend = dRoom.map((value, i) => value * dDual[i]);
    if (!aim((i) => centre - bend[i])) break;
    const length = Math.min(1, 0.995 * furthest(room, dRoom), 0.995 * furthest(dual, dDual));
    for (let a = 0; a < n; a++) x[free[a]] += length * dx[a];
    for (let i = 0; i < m; i++) {
      room[i] += length * dRoom[i];
      dual[i] += length * dDual[i];
    }
  }
  const cost = x.reduce((sum, value, c) => sum + 0.5 * value * (slope(c) + programme.cost[c]), 0);
  return { status, x, cost, rowDual: dual.slice(0, rows), columnDual: new Float64Array(columns) };
}

/** Rows and bounds of the free columns as g x ≥ h, the held columns moved to the right side. */
function inequalities(
  { columns, rows, matrix, rowLower, columnLower, columnUpper }: Programme,
  free: number[],
  held: Float64Array,
): { g: Float64Array; h: Float64Array } {
  const n = free.length;
  const g: number[] = [];
  const h: number[] = [];
  for (let i = 0; i < rows; i++) {
    g.push(...free.map((c) => matrix[columns * i + c]));
    h.push(rowLower[i] - held.reduce((sum, value, c) => sum + matrix[columns * i + c] * value, 0));
  }
  for (let a = 0; a < n; a++) {
    for (const [sign, bound] of [
      [1, columnLower[free[a]]],
      [-1, columnUpper[free[a]]],
    ]) {
      if (!Number.isFinite(bound)) continue;
      g.push(...free.map((_, b) => (b === a ? sign : 0)));
      h.push(sign * bound);
    }
  }
  return { g: Float64Array.from(g), h: Float64Array.from(h) };
}

function rowTimes(g: Float64Array, row: number, n: number, value: (a: number) => number): number {
  let sum = 0;
  for (let a = 0; a < n; a++) sum += g[n * row + a] * value(a);
  return sum;
}

function columnTimes(g: Float64Array, column: number, n: number, values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += g[n * i + column] * values[i];
  return sum;
}

function dot(a: Float64Array, b: Float64Array): number {
  return a.reduce((sum, value, i) => sum + value * b[i], 0);
}

function greatest(values: Float64Array): number {
  return values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

/** Longest share of a change that keeps all values positive, at most 1. */
function furthest(values: Float64Array, change: Float64Array): number {
  return values.reduce((most, value, i) => (change[i] < 0 ? Math.min(most, -value / change[i]) : most), 1);
}
