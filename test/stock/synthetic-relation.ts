import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { POINT_USED, type Relation } from '../../src/model/relation.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from '../../src/spatial/surface-evaluate.ts';

/** Stock at a place of the surface (mm). */
export type Field = (u: number, height: number) => number;

export interface RelationOptions {
  points: number;
  noise?: number;
  seed?: number;
  /** Places without points. */
  hidden?: (u: number, height: number) => boolean;
}

/** A relation of points spread over a surface by area, each off by the field and normal noise along the normal. */
export function relationOf(surface: NominalSurface, field: Field, options: RelationOptions): Relation {
  const { points, noise = 0, seed = 1, hidden } = options;
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 1));
  const { columns, heights } = surface;
  const place = new Float64Array(PLACE_SIZE);
  const density = (u: number, z: number): number => {
    evaluateSurface(surface, u, z, place);
    return Math.hypot(place[4], place[3], place[3] * place[7] - place[4] * place[6]);
  };
  const [uLow, uWhole] = [columns[0], columns[columns.length - 1] - columns[0]];
  const [zLow, zWhole] = [heights[0], heights[heights.length - 1] - heights[0]];
  let most = 0;
  for (let i = 0; i < 4000; i++) most = Math.max(most, density(uLow + uWhole * uniform(), zLow + zWhole * uniform()));
  const relation: Relation = {
    count: points,
    u: new Float64Array(points),
    height: new Float64Array(points),
    deviation: new Float64Array(points),
    flag: new Uint8Array(points).fill(POINT_USED),
  };
  for (let i = 0; i < points; ) {
    const u = uLow + uWhole * uniform();
    const z = zLow + zWhole * uniform();
    if (1.05 * most * uniform() > density(u, z) || hidden?.(u, z)) continue;
    relation.u[i] = u;
    relation.height[i] = z;
    relation.deviation[i] = field(u, z) + (noise > 0 ? noise * normal() : 0);
    i++;
  }
  return relation;
}
