import type { Relation } from '../model/relation.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';

/** Points of one section, carried to its height, in order of rising `u`. */
export interface CarriedSection {
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
 * Returns the picked points carried along the nominal surface to a height: each keeps its `u` and its offset along the
 * nominal's normal, re-attached where the offset point lies at the height. A thick slab so adds points without blurring
 * the outline.
 * @param pick indices of points of the relation
 */
export function carryPoints(
  surface: NominalSurface,
  relation: Relation,
  pick: ArrayLike<number>,
  height: number,
): CarriedSection {
  const order = Uint32Array.from(pick);
  order.sort((a, b) => relation.u[a] - relation.u[b] || a - b);
  const count = order.length;
  const points = new Float64Array(2 * count);
  const u = new Float64Array(count);
  const deviation = new Float64Array(count);
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  for (let k = 0; k < count; k++) {
    const i = order[k];
    u[k] = relation.u[i];
    deviation[k] = relation.deviation[i];
    evaluateSurface(surface, u[k], height, place);
    placeNormal(surface, place, normal);
    // The foot's own height, so that foot plus offset lies at the section's height.
    const footHeight = height - deviation[k] * normal[2];
    if (footHeight !== height) {
      evaluateSurface(surface, u[k], footHeight, place);
      placeNormal(surface, place, normal);
    }
    points[2 * k] = place[0] + deviation[k] * normal[0];
    points[2 * k + 1] = place[1] + deviation[k] * normal[1];
  }
  return { height, points, u, deviation, source: order };
}
