import type { DeviationMap } from '../model/results.ts';

/** A field without its noise, as far as noise explains its roughness. Row by row, NaN where not measured. */
export interface CalmField {
  value: number[][];
  /** Noise of each cell (mm): what the map states, or less where the field is smoother than that. */
  noise: number[][];
}

/** Half widths of the windows (cells), widest first: the smoothest explanation that holds is taken. */
const HALF_WIDTHS = [8, 4, 2];
/** Terms of a level, a sloping and a curved surface over (r, c): 1, r, c, r², rc, c². */
const TERMS = [1, 3, 6];
/** Standard deviations by which a surface may leave the values before a narrower or more bent one is sought. */
export interface CalmTrust {
  /** Of the mean square over the window above that of the noise. */
  misfit: number;
  /** Of the mean about the centre. */
  centre: number;
}

const CALM_TRUST: CalmTrust = { misfit: 3, centre: 2.5 };

/**
 * The calm field: at each cell a level, sloping or curved surface fitted by least squares to the neighbours, the widest
 * window and fewest terms whose misfit over the window and about its centre the stated noise explains (in the manner of
 * Lepski 1991); the cell's own value where none does.
 * @param trust the more, the less of the noise at the extremes of many cells is taken for form, and the less of a narrow
 * dent is kept
 */
export function calmField(map: Pick<DeviationMap, 'deviation' | 'u'>, trust = CALM_TRUST): CalmField {
  const value = map.deviation.map((row) => row.map((d) => d ?? Number.NaN));
  const noise = map.u.map((row) => row.map((u) => u ?? 0));
  for (let i = 0; i < map.deviation.length; i++)
    for (let j = 0; j < map.deviation[i].length; j++) {
      if (map.deviation[i][j] === null || !((map.u[i][j] ?? 0) > 0)) continue;
      const found = calmCell(map, i, j, trust);
      if (found) [value[i][j], noise[i][j]] = [found.level, Math.min(noise[i][j], found.scatter)];
    }
  return { value, noise };
}

function calmCell(map: Pick<DeviationMap, 'deviation' | 'u'>, i: number, j: number, trust: CalmTrust) {
  for (const half of HALF_WIDTHS) {
    const sums = windowSums(map, i, j, half);
    for (const terms of TERMS) {
      const free = sums.count - terms;
      if (free < terms) continue;
      const fit = solveLeading(sums.matrix, sums.right, terms);
      if (!fit) continue;
      const square = Math.max(0, sums.square - fit.reduce((sum, b, k) => sum + b * sums.right[k], 0)) / free;
      const expected = sums.variance / sums.count;
      if (square > expected * (1 + trust.misfit * Math.sqrt(2 / free))) continue;
      if (Math.abs(sums.near / sums.nearCount - fit[0]) > trust.centre * Math.sqrt(expected / sums.nearCount)) continue;
      return { level: fit[0], scatter: Math.sqrt(square) };
    }
  }
  return null;
}

interface WindowSums {
  count: number;
  matrix: Float64Array;
  right: Float64Array;
  square: number;
  variance: number;
  near: number;
  nearCount: number;
}

function windowSums(map: Pick<DeviationMap, 'deviation' | 'u'>, i: number, j: number, half: number): WindowSums {
  const sums: WindowSums = {
    count: 0,
    matrix: new Float64Array(36),
    right: new Float64Array(6),
    square: 0,
    variance: 0,
    near: 0,
    nearCount: 0,
  };
  const term = new Float64Array(6);
  term[0] = 1;
  for (let r = Math.max(0, i - half); r <= Math.min(map.deviation.length - 1, i + half); r++) {
    const row = map.deviation[r];
    for (let c = Math.max(0, j - half); c <= Math.min(row.length - 1, j + half); c++) {
      const d = row[c];
      const u = map.u[r][c];
      if (d === null || u === null) continue;
      const [x, y] = [(r - i) / half, (c - j) / half];
      term[1] = x;
      term[2] = y;
      term[3] = x * x;
      term[4] = x * y;
      term[5] = y * y;
      for (let a = 0; a < 6; a++) {
        for (let b = 0; b <= a; b++) sums.matrix[6 * a + b] += term[a] * term[b];
        sums.right[a] += term[a] * d;
      }
      sums.count++;
      sums.square += d * d;
      sums.variance += u * u;
      if (Math.abs(r - i) <= 1 && Math.abs(c - j) <= 1) {
        sums.near += d;
        sums.nearCount++;
      }
    }
  }
  return sums;
}

/** Solves the leading `n` equations of a symmetric positive system by Cholesky; null when they do not determine it. */
function solveLeading(matrix: Float64Array, right: Float64Array, n: number): Float64Array | null {
  const factor = new Float64Array(36);
  const x = new Float64Array(n);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = matrix[6 * a + b];
      for (let k = 0; k < b; k++) sum -= factor[6 * a + k] * factor[6 * b + k];
      if (a !== b) factor[6 * a + b] = sum / factor[7 * b];
      else if (sum <= 1e-9 * matrix[0]) return null;
      else factor[7 * a] = Math.sqrt(sum);
    }
    let sum = right[a];
    for (let k = 0; k < a; k++) sum -= factor[6 * a + k] * x[k];
    x[a] = sum / factor[7 * a];
  }
  for (let a = n - 1; a >= 0; a--) {
    for (let k = a + 1; k < n; k++) x[a] -= factor[6 * k + a] * x[k];
    x[a] /= factor[7 * a];
  }
  return x;
}
