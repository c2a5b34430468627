import { beforeAll, describe, expect, test } from 'vitest';
import { loadSolver, type Programme, type Solve } from '../../src/place/linear-programme.ts';

const INF = Number.POSITIVE_INFINITY;

/** Two columns x, y ≥ 0 and the rows given as [a, b, lower, upper]. */
function programme(cost: number[], rows: number[][], change: Partial<Programme> = {}): Programme {
  return {
    columns: 2,
    rows: rows.length,
    cost: Float64Array.from(cost),
    columnLower: new Float64Array(2),
    columnUpper: new Float64Array(2).fill(INF),
    matrix: Float64Array.from(rows.flatMap((row) => row.slice(0, 2))),
    rowLower: Float64Array.from(rows, (row) => row[2]),
    rowUpper: Float64Array.from(rows, (row) => row[3]),
    ...change,
  };
}

describe('linear programmes', () => {
  let solve: Solve;
  beforeAll(async () => {
    solve = await loadSolver();
  });

  test('optimum and duals: greatest 3x + 5y with x ≤ 4, 2y ≤ 12, 3x + 2y ≤ 18', () => {
    const rows = [
      [1, 0, -INF, 4],
      [0, 2, -INF, 12],
      [3, 2, -INF, 18],
    ];
    const found = solve(programme([-3, -5], rows));
    expect(found.status).toBe('optimal');
    expect(found.cost).toBeCloseTo(-36, 9);
    for (const [k, value] of [2, 6].entries()) expect(found.x[k]).toBeCloseTo(value, 9);
    for (const [k, value] of [0, -1.5, -1].entries()) expect(found.rowDual[k]).toBeCloseTo(value, 9);
  });

  test('a column that holds shows in its own dual', () => {
    const found = solve(programme([1, 2], [[1, 1, 1, INF]], { columnUpper: Float64Array.of(0.25, INF) }));
    expect(found.x[0]).toBeCloseTo(0.25, 9);
    expect(found.x[1]).toBeCloseTo(0.75, 9);
    expect(found.columnDual[0]).toBeCloseTo(-1, 9);
    expect(found.rowDual[0]).toBeCloseTo(2, 9);
  });

  test('contradictory rows are infeasible, an open direction is unbounded', () => {
    const contradiction = [
      [1, 1, 3, INF],
      [1, 1, -INF, 2],
    ];
    expect(solve(programme([1, 1], contradiction)).status).toBe('infeasible');
    expect(solve(programme([-1, 0], [[0, 1, -INF, 1]])).status).toBe('unbounded');
  });

  test('free columns go below zero', () => {
    const free = { columnLower: new Float64Array(2).fill(-INF) };
    const rows = [
      [1, 1, -2, INF],
      [1, -1, -5, INF],
    ];
    const found = solve(programme([1, 0], rows, free));
    expect(found.x[0]).toBeCloseTo(-3.5, 9);
    expect(found.x[1]).toBeCloseTo(1.5, 9);
  });

  test('a NaN is refused and the solver goes on working', () => {
    expect(() => solve(programme([Number.NaN, 1], [[1, 1, 1, INF]]))).toThrow(/number that is none/);
    expect(solve(programme([1, 1], [[1, 1, 1, INF]])).cost).toBeCloseTo(1, 9);
  });

  test('many programmes one after the other leave nothing behind', () => {
    for (let k = 1; k <= 300; k++) expect(solve(programme([1, 1], [[1, 1, k, INF]])).cost).toBeCloseTo(k, 6);
  });
});
