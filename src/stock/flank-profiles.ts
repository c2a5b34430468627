import type { StockMap } from './stock-map.ts';

/** Calm stock along a line over a flank, equally spaced (mm); NaN where not measured. */
export interface FlankProfile {
  step: number;
  values: Float64Array;
}

/** Fewest values that make a profile. */
const FEWEST = 8;

/**
 * Returns the calm stock of a zone's flanks along every row and every column of the map, edge zones left out. Between the
 * cells it is straight.
 */
export function flankProfiles(map: StockMap, zone: number): FlankProfile[] {
  const profiles: FlankProfile[] = [];
  const lines = (outer: number, inner: number, cellAt: (a: number, b: number) => number, isRow: boolean): void => {
    for (let a = 0; a < outer; a++) {
      let run: number[] = [];
      for (let b = 0; b <= inner; b++) {
        const m = b < inner ? cellAt(a, b) : -1;
        const holds = m >= 0 && map.zone[m] === zone && map.flank[m] !== 0;
        if (holds && (run.length === 0 || map.flank[run[0]] === map.flank[m])) {
          run.push(m);
          continue;
        }
        if (run.length >= FEWEST) profiles.push(profileOf(map, run, isRow));
        run = holds ? [m] : [];
      }
    }
  };
  lines(map.rows, map.columns, (r, c) => r * map.columns + c, true);
  lines(map.columns, map.rows, (c, r) => r * map.columns + c, false);
  return profiles;
}

function profileOf(map: StockMap, run: readonly number[], isRow: boolean): FlankProfile {
  const at = run.map((m) => (isRow ? map.along[m] : map.heights[Math.floor(m / map.columns)]));
  const count = run.length;
  const step = (at[count - 1] - at[0]) / (count - 1);
  const values = new Float64Array(count);
  let k = 0;
  for (let i = 0; i < count; i++) {
    const place = at[0] + i * step;
    while (k < count - 2 && at[k + 1] <= place) k++;
    const part = (place - at[k]) / (at[k + 1] - at[k]);
    const [low, high] = [map.calm[run[k]], map.calm[run[k + 1]]];
    values[i] = part < 1e-9 ? low : part > 1 - 1e-9 ? high : (1 - part) * low + part * high;
  }
  return { step, values };
}
