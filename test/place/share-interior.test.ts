import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/math/random.ts';
import type { Programme } from '../../src/place/linear-programme.ts';
import { interiorPoint } from '../../src/place/share-interior.ts';

function programme(cost: number[], rows: number[][], low: number[], high: number[]): Programme {
  const columns = cost.length;
  return {
    columns,
    rows: rows.length,
    cost: Float64Array.from(cost),
    columnLower: Float64Array.from(low),
    columnUpper: Float64Array.from(high),
    matrix: Float64Array.from(rows.flatMap((row) => row.slice(0, columns))),
    rowLower: Float64Array.from(rows, (row) => row[columns]),
    rowUpper: new Float64Array(rows.length).fill(Number.POSITIVE_INFINITY),
  };
}

describe('quadratic programmes', () => {
  test('nearest point of a half plane: the foot of (1, 3) on x + y ≤ 2', () => {
    const found = interiorPoint(programme([-1, -3], [[-1, -1, -2]], [-9, -9], [9, 9]), Float64Array.of(1, 0, 0, 1));
    expect(found.status).toBe('optimal');
    expect(found.x[0]).toBeCloseTo(0, 8);
    expect(found.x[1]).toBeCloseTo(2, 8);
    expect(found.rowDual[0]).toBeCloseTo(1, 6);
    expect(found.cost).toBeCloseTo(-4, 8);
  });

  test('bounds hold, columns whose bounds meet stay, rows of the same direction do no harm', () => {
    const rows = [
      [1, 0, 0, 0.5],
      [1, 0, 0, 0.5],
      [1, 1e-9, 0, 0.5],
    ];
    const hessian = Float64Array.of(1, 0, 0, 0, 1, 0.5, 0, 0.5, 1);
    const found = interiorPoint(programme([0, -4, 0], rows, [-1, -1, 0.25], [1, 1, 0.25]), hessian);
    expect(found.status).toBe('optimal');
    for (const [k, value] of [0.5, 1, 0.25].entries()) expect(found.x[k]).toBeCloseTo(value, 7);
  });

  test('no row: the free minimum', () => {
    const found = interiorPoint(programme([-1, 2], [], [-9, -9], [9, 9]), Float64Array.of(2, 0, 0, 4));
    expect(found.x[0]).toBeCloseTo(0.5, 9);
    expect(found.x[1]).toBeCloseTo(-0.5, 9);
  });

  test('random programmes meet the conditions of an optimum (Karush, Kuhn, Tucker)', () => {
    const uniform = seededRandom(7);
    for (let seed = 0; seed < 30; seed++) {
      const rows = Array.from({ length: 60 }, () => [
        uniform() - 0.5,
        uniform() - 0.5,
        uniform() - 0.5,
        -0.1 * uniform(),
      ]);
      const cost = [uniform() - 0.5, uniform() - 0.5, uniform() - 0.5];
      const hessian = Float64Array.of(1, 0.2, 0, 0.2, 0.01, 0, 0, 0, 1e-3);
      const open = [9, 9, 9];
      hessian[4] += 0.1;
      const found = interiorPoint(
        programme(
          cost,
          rows,
          open.map((value) => -value),
          open,
        ),
        hessian,
      );
      expect(found.status).toBe('optimal');
      for (let a = 0; a < 3; a++) {
        let slope = cost[a];
        for (let b = 0; b < 3; b++) slope += hessian[3 * a + b] * found.x[b];
        rows.forEach((row, i) => {
          slope -= row[a] * found.rowDual[i];
        });
        if (Math.abs(found.x[a]) < 8.9) expect(Math.abs(slope)).toBeLessThan(1e-6);
      }
      rows.forEach((row, i) => {
        const room = row[0] * found.x[0] + row[1] * found.x[1] + row[2] * found.x[2] - row[3];
        expect(room).toBeGreaterThan(-1e-8);
        expect(found.rowDual[i] * room).toBeLessThan(1e-8);
      });
    }
  });
});
