import type { Relation } from '../model/relation.ts';
import type { Deviation, Side } from '../model/results.ts';
import type { NominalSurface } from '../model/surface.ts';
import { alongAt, evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';

/** Strays listed one by one, the farthest first. */
const LISTED = 100;

/** Returns the lone strays: their count and, farthest first, up to a hundred with place and distance (mm). */
export function outlierList(
  surface: NominalSurface,
  relation: Relation,
  outliers: readonly number[],
): Deviation['outliers'] {
  const farthest = [...outliers].sort(
    (a, b) => Math.abs(relation.deviation[b]) - Math.abs(relation.deviation[a]) || a - b,
  );
  const place = new Float64Array(PLACE_SIZE);
  const listed = farthest.slice(0, LISTED).map((i) => {
    const height = relation.height[i];
    evaluateSurface(surface, relation.u[i], height, place);
    const along = alongAt(surface, relation.u[i], height);
    const side: Side = along < 0 ? 'suction' : 'pressure';
    const point: [number, number, number] = [place[0], place[1], place[2]];
    return { place: { height, along, side, point }, deviation: relation.deviation[i] };
  });
  return { count: outliers.length, listed };
}
