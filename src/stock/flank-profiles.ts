import type { StockMap } from './stock-map.ts';

/** Stock along a strip over a flank, equally spaced (mm); NaN where not measured. */
export interface FlankProfile {
  step: number;
  /** As measured, and calmed as far as noise explains its roughness. */
  raw: Float64Array;
  calm: Float64Array;
  /** Standard deviation of the noise of each value. */
  noise: Float64Array;
}

/** Fewest values that make a profile. */
const FEWEST = 8;

/**
 * Returns the stock of a zone's flanks along strips of the map, edge zones left out: strips along the outline, each the
 * mean over a height of `width`, and strips along the span, each the mean over as much of the outline.
 * @param u standard uncertainty of the map's cells (mm)
 * @param width of a strip (mm)
 */
export function flankProfiles(map: StockMap, u: Float64Array, zone: number, width: number): FlankProfile[] {
  const { rows, columns, heights, along } = map;
  const profiles: FlankProfile[] = [];
  const rowStep = rows > 1 ? heights[1] - heights[0] : width;
  const rowsAStrip = Math.max(1, Math.round(width / rowStep));
  for (const side of [-1, 1]) {
    const holds = (m: number): boolean => map.zone[m] === zone && map.flank[m] === side;
    for (let r = 0; r < rows; r += rowsAStrip) {
      const strip = Array.from({ length: Math.min(rowsAStrip, rows - r) }, (_, i) => r + i);
      const lines = Array.from({ length: columns }, (_, c) => strip.map((row) => row * columns + c).filter(holds));
      collect(map, u, lines, (m) => along[m], profiles);
    }
    const middle = (rows >> 1) * columns;
    for (let c = 0; c < columns; ) {
      const from = c;
      while (c < columns && along[middle + c] - along[middle + from] < width) c++;
      const strip = Array.from({ length: c - from }, (_, i) => from + i);
      const lines = Array.from({ length: rows }, (_, r) => strip.map((column) => r * columns + column).filter(holds));
      collect(map, u, lines, (m) => heights[Math.floor(m / columns)], profiles);
    }
  }
  return profiles;
}

/** Adds the profile of a strip: the longest stretch of lines that hold cells. */
function collect(
  map: StockMap,
  u: Float64Array,
  lines: readonly number[][],
  placeOf: (m: number) => number,
  profiles: FlankProfile[],
): void {
  const first = lines.findIndex((line) => line.length > 0);
  if (first < 0) return;
  let last = first;
  while (last + 1 < lines.length && lines[last + 1].length > 0) last++;
  const held = lines.slice(first, last + 1);
  if (held.length < FEWEST) return;
  const at = held.map((line) => line.reduce((sum, m) => sum + placeOf(m), 0) / line.length);
  const count = held.length;
  const step = (at[count - 1] - at[0]) / (count - 1);
  const means = held.map((line) => meanOf(map, u, line));
  const profile = { step, raw: new Float64Array(count), calm: new Float64Array(count), noise: new Float64Array(count) };
  let k = 0;
  for (let i = 0; i < count; i++) {
    const place = at[0] + i * step;
    while (k < count - 2 && at[k + 1] <= place) k++;
    const part = Math.min(Math.max((place - at[k]) / (at[k + 1] - at[k]), 0), 1);
    const between = (a: number, b: number): number => (part < 1e-9 ? a : part > 1 - 1e-9 ? b : a + part * (b - a));
    profile.raw[i] = between(means[k].raw, means[k + 1].raw);
    profile.calm[i] = between(means[k].calm, means[k + 1].calm);
    profile.noise[i] = between(means[k].noise, means[k + 1].noise);
  }
  profiles.push(profile);
}

/** Mean over the cells of a line; NaN where fewer than half of them are measured. */
function meanOf(map: StockMap, u: Float64Array, line: readonly number[]) {
  let [count, raw, calm, squares] = [0, 0, 0, 0];
  for (const m of line) {
    if (!Number.isFinite(map.raw[m])) continue;
    count++;
    raw += map.raw[m];
    calm += map.calm[m];
    squares += (u[m] * map.noiseShare[m]) ** 2;
  }
  if (2 * count < line.length) return { raw: Number.NaN, calm: Number.NaN, noise: 0 };
  return { raw: raw / count, calm: calm / count, noise: Math.sqrt(squares) / count };
}
