import type { Outline, SectionEdges } from '../model/outline.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import { chordParameters, interpolateOutline } from './interpolate-outline.ts';

/** An outline of the nominal at a height, with the way from `u` to its parameter. */
export interface NominalOutline {
  outline: Outline;
  edges: SectionEdges;
  /** Positions `u` (rising) and the outline's parameter there; the parameter runs on beyond the period where it wraps. */
  u: Float64Array;
  parameter: Float64Array;
}

/** Returns the nominal's outline at a height: the closed curve through the surface's columns, corners kept. */
export function nominalOutline(surface: NominalSurface, height: number): NominalOutline {
  const { columns, orientation } = surface;
  const kept: number[] = [];
  const cornerColumns = new Set<number>();
  for (let c = 0; c < columns.length; c++) {
    if (c > 0 && columns[c] <= columns[c - 1]) cornerColumns.add(kept.length - 1);
    else kept.push(c);
  }
  // The last column is the first one again.
  kept.pop();
  if (surface.cornerAtTrailing) cornerColumns.add(0);
  const count = kept.length;
  const place = new Float64Array(PLACE_SIZE);
  const points = new Float64Array(2 * count);
  kept.forEach((c, k) => {
    evaluateSurface(surface, columns[c], height, place);
    const at = orientation > 0 ? k : (count - k) % count;
    points[2 * at] = place[0];
    points[2 * at + 1] = place[1];
  });
  const corners = [...cornerColumns].map((k) => (orientation > 0 ? k : (count - k) % count)).sort((a, b) => a - b);
  const outline = interpolateOutline(points, { corners });
  const { at, period } = chordParameters(points);
  const start = outline.knots[0];
  const parameterOf = (k: number): number => {
    if (orientation > 0) return start + (k === count ? period : at[k]);
    return start + (k === 0 ? period : at[count - k]);
  };
  const u = Float64Array.from([...kept.map((c) => columns[c]), columns[columns.length - 1]]);
  const parameter = Float64Array.from(u, (_, k) => parameterOf(k));
  const nose = kept.findIndex((c) => columns[c] === 0);
  const edges: SectionEdges = {
    leading: parameter[nose],
    trailing: start,
    firstSide: orientation > 0 ? 'pressure' : 'suction',
  };
  return { outline, edges, u, parameter };
}

/** Returns the outline's parameter at `u` (linear between columns; not wrapped). */
export function parameterAtU(nominal: NominalOutline, u: number): number {
  const grid = nominal.u;
  let low = 0;
  let high = grid.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (grid[middle] <= u) low = middle;
    else high = middle;
  }
  const share = Math.min(Math.max((u - grid[low]) / (grid[high] - grid[low]), 0), 1);
  return nominal.parameter[low] + share * (nominal.parameter[high] - nominal.parameter[low]);
}
