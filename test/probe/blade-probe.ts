import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { SectionTable } from '../../src/model/shape.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';

/** Places between two neighbouring columns of the surface. */
const PARTS = 2;

/**
 * Returns the sections a probe records that moves its ball's centre at fixed heights round a blade: the centres, or for a
 * tip of 0 the part's own points, with noise along the normal.
 */
export function probedBlade(
  surface: NominalSurface,
  heights: readonly number[],
  tip: number,
  noise: { sigma: number; seed: number },
): SectionTable {
  const normalNumber = normalFrom(seededRandom(noise.seed));
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const { columns } = surface;
  const sections = heights.map((height, k) => {
    const points: number[] = [];
    for (let c = 0; c + 1 < columns.length; c++) {
      for (let part = 0; part < PARTS; part++) {
        const u = columns[c] + (part / PARTS) * (columns[c + 1] - columns[c]);
        let z = height;
        for (let round = 0; round < 30; round++) {
          evaluateSurface(surface, u, z, place);
          placeNormal(surface, place, normal);
          z = height - tip * normal[2];
        }
        const reach = tip + noise.sigma * normalNumber();
        points.push(place[0] + reach * normal[0], place[1] + reach * normal[1]);
      }
    }
    return { id: `p${k + 1}`, height, points: Float64Array.from(points) };
  });
  return { kind: 'sections', sections };
}
