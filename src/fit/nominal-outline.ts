import type { Outline, SectionEdges } from '../model/outline.ts';
import type { SurfaceSection } from '../section/surface-section.ts';
import { intervalOf } from '../spatial/surface-evaluate.ts';
import { chordParameters } from './interpolate-outline.ts';
import { outlineThroughColumns } from './outline-through-columns.ts';

/** An outline of the nominal in a section, with the way from `u` to its parameter. */
export interface NominalOutline {
  outline: Outline;
  edges: SectionEdges;
  /** Positions `u` (rising) and the outline's parameter there; the parameter runs on beyond the period where it wraps. */
  u: Float64Array;
  parameter: Float64Array;
}

/** Returns the nominal's outline in a section: the closed curve through the surface's columns, corners kept. */
export function nominalOutline(on: SurfaceSection): NominalOutline {
  const { surface } = on;
  const { columns, orientation } = surface;
  const {
    outline,
    points,
    columns: kept,
  } = outlineThroughColumns(surface, (c, out) => {
    on.carry(columns[c], 0, out);
  });
  const count = kept.length;
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
  const low = intervalOf(grid, u);
  const high = low + 1;
  const share = Math.min(Math.max((u - grid[low]) / (grid[high] - grid[low]), 0), 1);
  return nominal.parameter[low] + share * (nominal.parameter[high] - nominal.parameter[low]);
}
