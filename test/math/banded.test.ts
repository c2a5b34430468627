import { describe, expect, it } from 'vitest';
import {
  addCyclic,
  cyclicMatrix,
  entryCyclic,
  factorCyclic,
  inverseCyclic,
  solveCyclic,
} from '../../src/math/banded-cyclic.ts';
import { solveCyclicTridiagonal, solveTridiagonal } from '../../src/math/banded-tridiagonal.ts';
import { seededRandom } from '../../src/math/random.ts';

/** Dense inverse by Gauss-Jordan elimination with pivoting: the slow reference. */
function denseInverse(a: number[][]): number[][] {
  const n = a.length;
  const m = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let c = 0; c < n; c++) {
    let p = c;
    for (let r = c; r < n; r++) if (Math.abs(m[r][c]) > Math.abs(m[p][c])) p = r;
    [m[c], m[p]] = [m[p], m[c]];
    const pivot = m[c][c];
    m[c] = m[c].map((value) => value / pivot);
    for (let r = 0; r < n; r++) {
      const factor = m[r][c];
      if (r !== c) m[r] = m[r].map((value, j) => value - factor * m[c][j]);
    }
  }
  return m.map((row) => row.slice(n));
}

function randomCyclic(size: number, band: number, border: number, seed: number) {
  const random = seededRandom(seed);
  const matrix = cyclicMatrix(size, band, border);
  const dense = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      if (i < size - border && i - j > band) continue;
      const value = i === j ? 4 * band + 2 * border + size / 4 + random() : random() - 0.5;
      addCyclic(matrix, i, j, value);
      dense[i][j] = dense[j][i] = value;
    }
  }
  return { matrix, dense };
}

describe('cyclic banded Cholesky', () => {
  for (const [size, band, border] of [
    [30, 7, 6],
    [12, 3, 3],
    [9, 2, 0],
    [6, 1, 6],
  ]) {
    it(`solves and inverts size ${size}, band ${band}, border ${border} as the dense reference does`, () => {
      const { matrix, dense } = randomCyclic(size, band, border, 7 * size + band);
      const reference = denseInverse(dense);
      expect(factorCyclic(matrix)).toBe(true);
      const side = Float64Array.from({ length: size }, (_, i) => Math.sin(3 * i + 1));
      const solution = side.slice();
      solveCyclic(matrix, solution);
      const inverse = inverseCyclic(matrix);
      for (let i = 0; i < size; i++) {
        const expected = reference[i].reduce((sum, value, j) => sum + value * side[j], 0);
        expect(solution[i]).toBeCloseTo(expected, 13);
        for (let j = 0; j <= i; j++) {
          if (i < size - border && i - j > band) expect(entryCyclic(inverse, i, j)).toBe(0);
          else expect(entryCyclic(inverse, j, i)).toBeCloseTo(reference[i][j], 13);
        }
      }
    });
  }

  it('refuses a matrix that is not positive definite', () => {
    const matrix = cyclicMatrix(4, 1, 1);
    for (let i = 0; i < 4; i++) addCyclic(matrix, i, i, i === 3 ? -1 : 1);
    expect(factorCyclic(matrix)).toBe(false);
  });
});

describe('tridiagonal systems', () => {
  it('reproduce a known solution, open and cyclic', () => {
    const n = 11;
    const random = seededRandom(5);
    const lower = Float64Array.from({ length: n }, random);
    const upper = Float64Array.from({ length: n }, random);
    const diagonal = Float64Array.from({ length: n }, () => 3 + random());
    const x = Float64Array.from({ length: n }, (_, i) => i * i - 20);
    for (const cyclic of [false, true]) {
      const side = Float64Array.from({ length: n }, (_, i) => {
        const before = i > 0 || cyclic ? lower[i] * x[(i + n - 1) % n] : 0;
        const after = i < n - 1 || cyclic ? upper[i] * x[(i + 1) % n] : 0;
        return before + diagonal[i] * x[i] + after;
      });
      (cyclic ? solveCyclicTridiagonal : solveTridiagonal)(lower, diagonal.slice(), upper, [side]);
      for (let i = 0; i < n; i++) expect(side[i]).toBeCloseTo(x[i], 11);
    }
  });
});
