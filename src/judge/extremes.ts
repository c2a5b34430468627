import type { DeviationMap } from '../model/results.ts';
import type { CalmField } from './calm-field.ts';
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

/**
 * The highest (sign +1) or lowest (sign −1) cell of a part of the map, corrected for what noise alone adds to an extreme:
 * bias = E[max(calm + noise)] − max(calm), the noise of the cells being independent and normal.
 * @param calm from `calmField`
 * @param cells [row, column] of the part, unmeasured ones left out by the caller or not
 * @returns null when nothing is measured
 */
export function extremeOf(
  map: Pick<DeviationMap, 'deviation' | 'u'>,
  calm: CalmField,
  cells: readonly (readonly [number, number])[],
  sign: 1 | -1,
): Extreme | null {
  const held = cells.filter(([i, j]) => map.deviation[i][j] !== null);
  if (held.length === 0) return null;
  let [row, column] = held[0];
  for (const [i, j] of held)
    if (sign * map.deviation[i][j]! > sign * map.deviation[row][column]!) [row, column] = [i, j];
  const mean = Float64Array.from(held, ([i, j]) => sign * calm.value[i][j]);
  const sd = Float64Array.from(held, ([i, j]) => calm.noise[i][j]);
  const bias = sign * Math.max(0, expectedMaximum(mean, sd) - mean.reduce((a, b) => Math.max(a, b), -Infinity));
  const raw = map.deviation[row][column]!;
  return { row, column, raw, bias, value: raw - bias, u: map.u[row][column] };
}
