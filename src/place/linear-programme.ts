import type { Highs } from 'highs';
import { CamberwrightError } from '../error.ts';

/** Minimise c·x over bounded columns and rows, all dense and row-major; ±Infinity where there is no bound. */
export interface Programme {
  columns: number;
  rows: number;
  cost: Float64Array;
  columnLower: Float64Array;
  columnUpper: Float64Array;
  /** rows × columns. */
  matrix: Float64Array;
  rowLower: Float64Array;
  rowUpper: Float64Array;
}

/** The solution of a linear programme. */
export interface ProgrammeSolution {
  status: 'optimal' | 'infeasible' | 'unbounded' | 'failed';
  /** Value of each column, and cost; of no meaning unless `optimal`. */
  x: Float64Array;
  cost: number;
  /** Rise of the least cost with the bound that holds a row or column; 0 where none holds. */
  rowDual: Float64Array;
  columnDual: Float64Array;
}

/** Solves one programme; gives its answer as a status, never as an error. */
export type Solve = (programme: Programme) => ProgrammeSolution;

let solver: Promise<Solve> | null = null;

/**
 * Returns the solver of linear programmes, loaded once: simplex without presolve, which suits few columns and rows by the
 * hundred.
 * @throws `fault/solver` where it does not load; the solver itself for a programme that holds a NaN
 */
export function loadSolver(): Promise<Solve> {
  solver ??= import('highs')
    .then((module) => module.default())
    .then((highs) => (programme: Programme) => solveWith(highs, programme))
    .catch((cause: unknown) => {
      solver = null;
      throw new CamberwrightError('fault/solver', 'The solver of linear programmes did not load.', {
        remedy: 'Reload the page, or install the packages again.',
        cause,
      });
    });
  return solver;
}

function solveWith(highs: Highs, programme: Programme): ProgrammeSolution {
  checkNumbers(programme);
  const { columns, rows } = programme;
  const model = highs.createModel({
    sense: highs.constants.objectiveSense.minimize,
    numCols: columns,
    numRows: rows,
    colCost: programme.cost,
    colLower: programme.columnLower,
    colUpper: programme.columnUpper,
    rowLower: programme.rowLower,
    rowUpper: programme.rowUpper,
    matrix: { format: 'csr', numRows: rows, numCols: columns, ...sparse(programme.matrix, rows, columns) },
  });
  try {
    model.options.set({ output_flag: false, presolve: 'off', solver: 'simplex' });
    model.options.set({ primal_feasibility_tolerance: 1e-9, dual_feasibility_tolerance: 1e-9 });
    model.run();
    const reached = model.getModelStatus();
    const { optimal, infeasible, unbounded } = highs.constants.modelStatus;
    const solution = model.getSolution();
    return {
      status:
        reached === optimal
          ? 'optimal'
          : reached === infeasible
            ? 'infeasible'
            : reached === unbounded
              ? 'unbounded'
              : 'failed',
      x: solution.colValue,
      cost: model.getObjectiveValue(),
      rowDual: solution.rowDual,
      columnDual: solution.colDual,
    };
  } finally {
    model.dispose();
  }
}

/** The solver takes a NaN for an answer; it is refused here. @throws `fault/solver` */
function checkNumbers(programme: Programme): void {
  const { cost, matrix, columnLower, columnUpper, rowLower, rowUpper } = programme;
  const finite = [cost, matrix].every((values) => values.every(Number.isFinite));
  const bounds = [columnLower, columnUpper, rowLower, rowUpper].every((values) => !values.some(Number.isNaN));
  if (finite && bounds) return;
  throw new CamberwrightError('fault/solver', 'A linear programme holds a number that is none.', {
    remedy: 'Report this with the files that led to it.',
  });
}

interface Compressed {
  starts: Int32Array;
  indices: Int32Array;
  values: Float64Array;
}

/** Rows of a dense matrix, compressed. */
function sparse(matrix: Float64Array, rows: number, columns: number): Compressed {
  return {
    starts: Int32Array.from({ length: rows + 1 }, (_, i) => i * columns),
    indices: Int32Array.from({ length: rows * columns }, (_, k) => k % columns),
    values: matrix,
  };
}
