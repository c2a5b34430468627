import { type BladeLaw, deform, nominalBlade, sectionDistance } from '../../samples/blade.ts';
import { nominalSurfacePoint } from '../../samples/deviation.ts';
import { outlinePlaces, outlineSteps } from '../../samples/outline-grid.ts';
import { seededRandom } from '../../src/math/random.ts';
import { apply3, invertPose, movePoint } from '../../src/math/rigid.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Pose } from '../../src/model/pose.ts';
import type { StockCells, StockZone } from '../../src/model/stock-cells.ts';

/** The sample blade's blank with random twist, bow, lean, thickness, edges and local changes; thicker by 1.1 mm at least. */
export function deformedBlank(seed: number): BladeLaw {
  const uniform = seededRandom(seed);
  const spread = (width: number) => width * (2 * uniform() - 1);
  const local = (of: 'x' | 'y' | 'thickness' | 'angle', amount: number) => ({
    of,
    centre: 20 + 80 * uniform(),
    halfWidth: 15 + 25 * uniform(),
    amount: spread(amount),
  });
  return deform(nominalBlade(), {
    twistDeg: [spread(0.3), spread(0.8)],
    bow: [spread(0.15), spread(0.2)],
    lean: [spread(0.3), spread(0.4)],
    thickness: [1.3 + spread(0.2), spread(0.3)],
    leading: [0.5 + spread(0.1)],
    trailing: [0.45 + spread(0.1)],
    centres: [0.4 + spread(0.3), spread(0.3)],
    camberDeg: [spread(0.3)],
    bands: [local('x', 0.1), local('y', 0.1), local('thickness', 0.2), local('angle', 0.004)],
  });
}

/** Wants of the four sides, by a seed. */
export function deformedZones(seed: number): StockZone[] {
  const uniform = seededRandom(1000 + seed);
  return ['leading edge', 'pressure side', 'trailing edge', 'suction side'].map((name) => ({
    name,
    least: 0.1 + 0.2 * uniform(),
    most: null,
    weight: 1 + uniform(),
  }));
}

/** The blank is sought as far as this along the normal of a cell (mm). */
const FARTHEST = 2;

/**
 * Stock of a blank on cells of the sample blade in closed form, as a function of its placement: along the cell's normal to
 * the blank's surface. Zones are the four pieces of the outline.
 */
export function deformedField(blank: BladeLaw, rows: number, columns: number): (pose: Pose) => StockCells {
  const nominal = nominalBlade();
  const places = outlinePlaces(outlineSteps(columns));
  const heights = Array.from({ length: rows }, (_, i) => 3 + (114 * i) / (rows - 1));
  const cells = heights.flatMap((height) => places.map((place) => ({ ...place, height })));
  const surface = cells.map((place) => nominalSurfacePoint(nominal, place));
  const count = cells.length;
  const point = Float64Array.from(surface.flatMap((at) => at.slice(0, 3)));
  const normal = Float64Array.from(surface.flatMap((at) => at.slice(3, 6)));
  return (pose) => {
    const back = invertPose(pose);
    const stock = Float64Array.from({ length: count }, (_, i) => {
      const at = 3 * i;
      return reachOf(
        blank,
        movePoint(back, point.subarray(at, at + 3)),
        apply3(back.rotation, normal.subarray(at, at + 3)),
      );
    });
    return {
      count,
      u: new Float64Array(count),
      along: new Float64Array(count),
      height: Float64Array.from(cells, ({ height }) => height),
      point,
      normal,
      stock,
      uStock: new Float64Array(count),
      area: new Float64Array(count).fill(1),
      points: new Uint32Array(count).fill(100),
      zone: Int16Array.from(cells, ({ piece }) => piece),
    };
  };
}

const found = new Float64Array(6);

/**
 * Signed distance from a place along a unit direction to the surface of a blade (mm): steps as long as the distance, which
 * cannot pass it, then Newton's. Where there is none ahead, the distance of the place itself.
 */
function reachOf(blade: BladeLaw, [x, y, z]: Vec3, [wx, wy, wz]: Vec3): number {
  let reach = 0;
  let beside = 0;
  for (let round = 0; round < 60; round++) {
    sectionDistance(blade, x + reach * wx, y + reach * wy, z + reach * wz, found);
    if (round === 0) beside = found[0];
    const rise = found[1] * wx + found[2] * wy + found[3] * wz;
    const isNear = Math.abs(found[0]) < 0.05 && rise > 0.3;
    const step = isNear ? found[0] / rise : 0.95 * found[0];
    reach -= step;
    if (isNear && Math.abs(step) < 1e-10) return reach;
    if (Math.abs(reach) > FARTHEST) break;
  }
  return -beside;
}
