import type { Relation } from '../model/relation.ts';
import type { SurfaceSection } from './surface-section.ts';

/** Points of one section, carried into it, in order of rising `u`. */
export interface CarriedSection {
  /** The section of the nominal surface. */
  on: SurfaceSection;
  height: number;
  /** x0, y0, x1, … (mm). */
  points: Float64Array;
  /** Position of each point's foot along the nominal outline (mm, see NominalSurface). */
  u: Float64Array;
  /** Signed distance of each point (mm). */
  deviation: Float64Array;
  /** Index of each point in the relation. */
  source: Uint32Array;
}

/**
 * Returns the picked points carried along the nominal surface into a section: each keeps its `u` and its offset along the
 * nominal's normal, re-attached where the offset point lies in the section. A thick slab so adds points without blurring
 * the outline.
 * @param pick indices of points of the relation
 */
export function carryPoints(on: SurfaceSection, relation: Relation, pick: ArrayLike<number>): CarriedSection {
  const order = Uint32Array.from(pick);
  order.sort((a, b) => relation.u[a] - relation.u[b] || a - b);
  const count = order.length;
  const points = new Float64Array(2 * count);
  const u = new Float64Array(count);
  const deviation = new Float64Array(count);
  const out = new Float64Array(2);
  for (let k = 0; k < count; k++) {
    const i = order[k];
    u[k] = relation.u[i];
    deviation[k] = relation.deviation[i];
    on.carry(u[k], deviation[k], out);
    points.set(out, 2 * k);
  }
  return { on, height: on.height, points, u, deviation, source: order };
}
