/** Error of one reading against the truth, and its stated standard uncertainty, both in the unit of the row. */
export interface RowError {
  error: number;
  u: number | null;
}

/** Errors of every row, in the order of the seeds. */
export type RowErrors = Map<string, RowError[]>;

export interface RowStatistics {
  median: number;
  p95: number;
  bias: number;
  spread: number;
  /** Share of the readings with a u whose interval value ± 2 u holds the truth, null without u. */
  covered: number | null;
  /** Readings that state a u. */
  known: number;
  /** Root mean square of (value − truth) / u, null without u. */
  z: number | null;
  count: number;
}

/** Returns the errors of several stretches of seeds as one, in the order given. */
export function mergeErrors(parts: readonly RowErrors[]): RowErrors {
  const merged: RowErrors = new Map();
  for (const part of parts)
    for (const [row, list] of part) {
      const all = merged.get(row);
      if (all) all.push(...list);
      else merged.set(row, [...list]);
    }
  return merged;
}

export function statisticsOfRows(errors: RowErrors): Map<string, RowStatistics> {
  return new Map([...errors].map(([row, list]) => [row, statisticsOf(list)]));
}

export function statisticsOf(list: readonly RowError[]): RowStatistics {
  const count = list.length;
  const sizes = list.map(({ error }) => Math.abs(error)).sort((a, b) => a - b);
  const at = (share: number) => {
    const place = share * (count - 1);
    const low = Math.floor(place);
    return sizes[low] + (place - low) * ((sizes[low + 1] ?? sizes[low]) - sizes[low]);
  };
  const bias = list.reduce((sum, { error }) => sum + error, 0) / count;
  const spread = Math.sqrt(list.reduce((sum, { error }) => sum + (error - bias) ** 2, 0) / Math.max(1, count - 1));
  let known = 0;
  let covered = 0;
  let squares = 0;
  for (const { error, u } of list) {
    if (u === null || !(u > 0)) continue;
    known++;
    if (Math.abs(error) <= 2 * u) covered++;
    squares += (error / u) ** 2;
  }
  const share = known > 0 ? covered / known : null;
  const z = known > 0 ? Math.sqrt(squares / known) : null;
  return { median: at(0.5), p95: at(0.95), bias, spread, covered: share, known, z, count };
}
