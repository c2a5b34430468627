import { type ArcTable, arcTable, lengthAtParameter } from '../fit/outline-arc-table.ts';
import type { ParameterSpec } from './definitions/definition.ts';
import type { SectionContext } from './section-context.ts';

/** Share of the chord and number of nominal edge radii that an edge zone covers at least. */
const CHORD_SHARE = 0.05;
const EDGE_RADII = 3;

/** Set-back of the edge zones as a parameter; 0 stands for the default. */
export const SETBACK: ParameterSpec = {
  name: 'setback',
  label: 'Edge zone (0: 5 % of chord, at least 3 nominal edge radii)',
  unit: 'mm',
  default: 0,
  least: 0,
  most: 1000,
};

/** Set-back of an edge zone along the outline (mm): as given, else 5 % of the nominal chord and 3 nominal edge radii. */
export function edgeSetback(nominal: SectionContext, edge: 'leading' | 'trailing', given: number): number {
  if (given > 0) return given;
  const radius = nominal[edge]?.end.radius ?? 0;
  return Math.max(CHORD_SHARE * nominal.far.length, EDGE_RADII * radius);
}

/** A section's outline measured by length from its leading edge, counter-clockwise. */
export interface OutlineLengths {
  table: ArcTable;
  /** Length to the trailing edge (mm). */
  trailing: number;
}

const known = new WeakMap<SectionContext, OutlineLengths>();

/** Returns the lengths along a section's outline; found once and kept while the context lives. */
export function outlineLengths(context: SectionContext): OutlineLengths {
  let lengths = known.get(context);
  if (!lengths) {
    const { outline, edges } = context.section;
    const table = arcTable(outline, edges.leading);
    lengths = { table, trailing: lengthAtParameter(table, edges.trailing) };
    known.set(context, lengths);
  }
  return lengths;
}
