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
  const measured: MeasuredRow[] = map.deviation.map((row, i) => ({
    d: Float64Array.from(row, (d, j) => (map.u[i][j] === null ? Number.NaN : (d ?? Number.NaN))),
    square: Float64Array.from(map.u[i], (u) => (u ?? 0) ** 2),
  }));
  for (let i = 0; i < map.deviation.length; i++)
    for (let j = 0; j < map.deviation[i].length; j++) {
      if (map.deviation[i][j] === null || !((map.u[i][j] ?? 0) > 0)) continue;
      const found = calmCell(measured, i, j, trust);
      if (found) [value[i][j], noise[i][j]] = [found.level, Math.min(noise[i][j], found.scatter)];
    }
  return { value, noise };
}

/** Deviations of a row, NaN where there is none, and the squares of their standard uncertainties. */
interface MeasuredRow {
  d: Float64Array;
  square: Float64Array;
}

function calmCell(rows: readonly MeasuredRow[], i: number, j: number, trust: CalmTrust) {
  for (const half of HALF_WIDTHS) {
    const sums = windowSums(rows, i, j, half);
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

/** Powers of x and y in each term. */
const POWER_X = [0, 1, 0, 2, 1, 0];
const POWER_Y = [0, 0, 1, 0, 1, 2];

/** Sums of the normal equations; along a row only the powers of y change, so that those of x join once a row. */
function windowSums(rows: readonly MeasuredRow[], i: number, j: number, half: number): WindowSums {
  const moments = new Float64Array(25);
  const right = new Float64Array(6);
  let [count, square, variance, near, nearCount] = [0, 0, 0, 0, 0];
  for (let r = Math.max(0, i - half); r <= Math.min(rows.length - 1, i + half); r++) {
    const { d, square: noise } = rows[r];
    const isNear = Math.abs(r - i) <= 1;
    const last = Math.min(d.length - 1, j + half);
    let [s0, s1, s2, s3, s4, d0, d1, d2] = [0, 0, 0, 0, 0, 0, 0, 0];
    for (let c = Math.max(0, j - half); c <= last; c++) {
      const value = d[c];
      if (Number.isNaN(value)) continue;
      const y = (c - j) / half;
      const yy = y * y;
      s0++;
      s1 += y;
      s2 += yy;
      s3 += yy * y;
      s4 += yy * yy;
      d0 += value;
      d1 += value * y;
      d2 += value * yy;
      square += value * value;
      variance += noise[c];
      if (isNear && Math.abs(c - j) <= 1) {
        near += value;
        nearCount++;
      }
    }
    count += s0;
    const x = (r - i) / half;
    let power = 1;
    for (let p = 0; p <= 4; p++, power *= x) {
      moments[5 * p] += power * s0;
      moments[5 * p + 1] += power * s1;
      moments[5 * p + 2] += power * s2;
      moments[5 * p + 3] += power * s3;
      moments[5 * p + 4] += power * s4;
    }
    right[0] += d0;
    right[1] += x * d0;
    right[2] += d1;
    right[3] += x * x * d0;
    right[4] += x * d1;
    right[5] += d2;
  }
  const matrix = new Float64Array(36);
  for (let a = 0; a < 6; a++)
    for (let b = 0; b <= a; b++) matrix[6 * a + b] = moments[5 * (POWER_X[a] + POWER_X[b]) + POWER_Y[a] + POWER_Y[b]];
  return { count, matrix, right, square, variance, near, nearCount };
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
