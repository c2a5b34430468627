import type { EdgeReach } from '../judge/map-places.ts';
import type { Adapt } from '../model/adapt-results.ts';
import type { NominalSurface } from '../model/surface.ts';
import { measured } from '../model/value.ts';
import { alongAt, evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import type { SurfaceTable } from './adapt-surface.ts';
import { placeRecord } from './place-record.ts';

/** Departure from the nominal from which a place counts as changed (mm). */
const CHANGED = 0.01;

/** Returns where an adapted blade departs most and least from its nominal, and over how much area. */
export function departsFrom(
  surface: NominalSurface,
  table: SurfaceTable,
  reach: EdgeReach,
): NonNullable<Adapt['departs']> {
  const { columns, heights, value } = table;
  const width = columns.length;
  const place = new Float64Array(PLACE_SIZE);
  let [most, least, area] = [0, 0, 0];
  for (let k = 0; k < value.length; k++) {
    if (value[k] > value[most]) most = k;
    if (value[k] < value[least]) least = k;
    const r = Math.floor(k / width);
    const c = k % width;
    if (Math.abs(value[k]) <= CHANGED) continue;
    evaluateSurface(surface, columns[c], heights[r], place);
    const density = Math.hypot(place[4], place[3], place[3] * place[7] - place[4] * place[6]);
    area += density * half(columns, c) * half(heights, r);
  }
  const placed = (k: number) => {
    const height = heights[Math.floor(k / width)];
    const u = columns[k % width];
    evaluateSurface(surface, u, height, place);
    const at = placeRecord(surface, reach, height, alongAt(surface, u, height), place);
    return { ...measured(value[k], null, 'mm', 'DEPART'), place: at };
  };
  return { most: placed(most), least: placed(least), areaMm2: area };
}

/** Half the distance between the neighbours of a grid value. */
function half(grid: Float64Array, i: number): number {
  return (grid[Math.min(i + 1, grid.length - 1)] - grid[Math.max(i - 1, 0)]) / 2;
}
