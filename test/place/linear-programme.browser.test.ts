import { expect, test } from 'vitest';
import { loadSolver } from '../../src/place/linear-programme.ts';

test('the solver of linear programmes loads in the browser', async () => {
  const solve = await loadSolver();
  const found = solve({
    columns: 1,
    rows: 1,
    cost: Float64Array.of(1),
    columnLower: Float64Array.of(Number.NEGATIVE_INFINITY),
    columnUpper: Float64Array.of(Number.POSITIVE_INFINITY),
    matrix: Float64Array.of(2),
    rowLower: Float64Array.of(-3),
    rowUpper: Float64Array.of(Number.POSITIVE_INFINITY),
  });
  expect(found.status).toBe('optimal');
  expect(found.x[0]).toBeCloseTo(-1.5, 9);
  expect(found.rowDual[0]).toBeCloseTo(0.5, 9);
});
