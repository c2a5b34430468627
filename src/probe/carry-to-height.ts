import type { NominalSurface } from '../model/surface.ts';
import { PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';
import { placeOnLoft } from './path-lean.ts';
import type { SectionPath } from './section-path.ts';

/**
 * Carries point `i` of a path to the path's height and writes its x, y: the part point lies `offset` (mm) along the unit
 * `normal` from the surface of the path.
 */
export type Carrier = (path: SectionPath, i: number, normal: Float64Array, offset: number, out: Float64Array) => void;

const ROUNDS = 6;

/**
 * Carries in the tangent plane, along its steepest rise: p' = p − dz / (1 − nz²) (e_z − nz n). Exact where the surface
 * is straight that way.
 */
export const carryInTangent: Carrier = (path, i, normal, offset, out) => {
  const [nx, ny, nz] = normal;
  const along = (offset * nz * nz) / (1 - nz * nz);
  out[0] = path.foot[2 * i] + (offset + along) * nx;
  out[1] = path.foot[2 * i + 1] + (offset + along) * ny;
};

/**
 * Returns a carrier along a loft: foot, normal and offset at the height from which the offset point lies at the path's
 * own. The path's own foot and normal count; the loft only tells how they change on the way.
 * @param u position of each point of the path on the loft
 */
export function carryOnLoft(surface: NominalSurface, u: Float64Array): Carrier {
  const here = new Float64Array(PLACE_SIZE);
  const there = new Float64Array(PLACE_SIZE);
  const normalHere = new Float64Array(3);
  const normalThere = new Float64Array(3);
  return (path, i, normal, offset, out) => {
    placeOnLoft(surface, u[i], path.height, here);
    placeNormal(surface, here, normalHere);
    let [nx, ny, nz] = normal;
    for (let round = 0; round < ROUNDS; round++) {
      placeOnLoft(surface, u[i], path.height - offset * nz, there);
      placeNormal(surface, there, normalThere);
      nx = normal[0] + normalThere[0] - normalHere[0];
      ny = normal[1] + normalThere[1] - normalHere[1];
      nz = normal[2] + normalThere[2] - normalHere[2];
      const size = Math.hypot(nx, ny, nz);
      nx /= size;
      ny /= size;
      nz /= size;
    }
    out[0] = path.foot[2 * i] + there[0] - here[0] + offset * nx;
    out[1] = path.foot[2 * i + 1] + there[1] - here[1] + offset * ny;
  };
}
