import type { DeviationMap } from '../model/results.ts';
import { expectedMaximum } from './expected-maximum.ts';

/** A cell of the map, and the value there after the correction. */
export interface Extreme {
  row: number;
  column: number;
  /** Highest (lowest) cell as averaged (mm). */
  raw: number;
  /** What noise alone is expected to add to it (mm); the corrected value is raw − bias. */
  bias: number;
  value: number;
  u: number | null;
}

/** Half widths of the smoothing windows, widest first. */
const HALF_WIDTHS = [3, 2];
/** Mean square misfit over the window, in units of the noise, above which the field is rougher than noise. */
const ROUGH = 1.6;

/**
 * The field without its noise, as far as the noise explains the roughness: a quadratic over 7 (else 5) neighbours along
 * both grid directions (Savitzky and Golay 1964); where it misfits its surroundings by more than the noise allows, the
 * cell's own value. Used only to find how much noise raises an extreme.
 */
export function calmField(map: Pick<DeviationMap, 'deviation' | 'u'>): number[][] {
  const rows = map.deviation.length;
  const value = (i: number, j: number) => map.deviation[i]?.[j] ?? null;
  const across = map.deviation.map((row, i) => row.map((_, j) => smoothAt((k) => value(i, j + k)) ?? Number.NaN));
  const calm = across.map((row, i) =>
    row.map((_, j) => {
      const at = (k: number) => (Number.isFinite(across[i + k]?.[j] ?? Number.NaN) ? across[i + k][j] : null);
      return smoothAt(at) ?? Number.NaN;
    }),
  );
  return map.deviation.map((row, i) =>
    row.map((d, j) => {
      if (d === null) return Number.NaN;
      let [sum, count] = [0, 0];
      for (let r = Math.max(0, i - 3); r <= Math.min(rows - 1, i + 3); r++)
        for (let c = Math.max(0, j - 3); c <= Math.min(row.length - 1, j + 3); c++) {
          const u = map.u[r][c];
          const misfit = (value(r, c) ?? Number.NaN) - calm[r][c];
          if (u === null || !(u > 0) || !Number.isFinite(misfit)) continue;
          sum += (misfit / u) ** 2;
          count++;
        }
      return count > 0 && sum / count <= ROUGH && Number.isFinite(calm[i][j]) ? calm[i][j] : d;
    }),
  );
}

/** Centre value of the quadratic through the widest complete window; the value itself where there is none. */
function smoothAt(at: (offset: number) => number | null): number | null {
  for (const m of HALF_WIDTHS) {
    let sum = 0;
    let whole = true;
    for (let k = -m; k <= m && whole; k++) {
      const d = at(k);
      if (d === null) whole = false;
      else sum += d * (3 * m * (m + 1) - 1 - 5 * k * k);
    }
    if (whole) return (3 * sum) / ((4 * m * m - 1) * (2 * m + 3));
  }
  return at(0);
}

/**
 * The highest (sign +1) or lowest (sign −1) cell of a part of the map, corrected for what noise alone adds to an extreme:
 * bias = E[max(calm + noise)] − max(calm), the noise of the cells being independent and normal.
 * @param calm from `calmField`
 * @param cells [row, column] of the part, unmeasured ones left out by the caller or not
 * @returns null when nothing is measured
 */
export function extremeOf(
  map: Pick<DeviationMap, 'deviation' | 'u'>,
  calm: readonly (readonly number[])[],
  cells: readonly (readonly [number, number])[],
  sign: 1 | -1,
): Extreme | null {
  const held = cells.filter(([i, j]) => map.deviation[i][j] !== null);
  if (held.length === 0) return null;
  let [row, column] = held[0];
  for (const [i, j] of held)
    if (sign * map.deviation[i][j]! > sign * map.deviation[row][column]!) [row, column] = [i, j];
  const mean = Float64Array.from(held, ([i, j]) => sign * calm[i][j]);
  const sd = Float64Array.from(held, ([i, j]) => map.u[i][j] ?? 0);
  const bias = sign * Math.max(0, expectedMaximum(mean, sd) - mean.reduce((a, b) => Math.max(a, b), -Infinity));
  const raw = map.deviation[row][column]!;
  return { row, column, raw, bias, value: raw - bias, u: map.u[row][column] };
}
