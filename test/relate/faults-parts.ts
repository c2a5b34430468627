import { nominalBlade } from '../../samples/blade.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import { identityPose } from '../../src/math/rigid.ts';
import { POINT_USED, type Relation } from '../../src/model/relation.ts';
import { relatePoints } from '../../src/relate/relate-points.ts';
import type { NominalTarget } from '../../src/spatial/nominal-target.ts';
import { alongAt, evaluateSurface, PLACE_SIZE, placeNormal } from '../../src/spatial/surface-evaluate.ts';
import { exactTarget } from '../support/exact-nominal.ts';

/** The nominal of a blade whose edges have a radius of 0.2 mm all along. */
export const sharpTarget = (): NominalTarget =>
  exactTarget(21, 400, { ...nominalBlade(), leading: [0.2], trailing: [0.2] });

export interface PlantedScan {
  seed: number;
  /** Points a mm². */
  density: number;
  /** Standard deviation of a point along the normal (mm). */
  noise: number;
  /** A raster with some play, as scanners give, instead of places by chance. */
  even?: boolean;
  /** Share of points pushed off by up to 1 mm either way. */
  strays?: number;
  /** Departure (mm) by `u`, length along the outline and height. */
  planted?: (along: number, height: number, u: number) => number;
  /** Smoothly deformed by up to 50 µm: bent and twisted, thicker and thinner, edges too. */
  deformed?: boolean;
  from: number;
  to: number;
}

/** Deviations of a smooth deformation up to 50 µm at a place with outward normal (nx, ny), `turn` of the way round. */
function deformation(turn: number, height: number, nx: number, ny: number): number {
  const phase = (2 * Math.PI * height) / 60;
  const wave = 0.015 * Math.cos(4 * Math.PI * turn + phase);
  return 0.022 * Math.cos(phase) * nx + 0.025 * Math.sin(phase) * ny + wave;
}

/** Points of a scan of the sharp blade (x0, y0, z0, …) and the `u` and height each was taken at. */
export function plantedPoints(
  target: NominalTarget,
  scan: PlantedScan,
): { positions: Float64Array; relation: Relation; stray: Uint8Array } {
  const { surface } = target;
  const { seed, density, noise, even = false, strays = 0, planted, deformed = false, from, to } = scan;
  const uniform = seededRandom(seed);
  const normal = normalFrom(seededRandom(seed + 1));
  const { columns } = surface;
  const uMin = columns[0];
  const uMax = columns[columns.length - 1];
  const middle = (from + to) / 2;
  const perimeter = alongAt(surface, uMax, middle) - alongAt(surface, uMin, middle);
  const across = Math.round(perimeter * Math.sqrt(density));
  const rows = Math.round((to - from) * Math.sqrt(density));
  const count = across * rows;
  const positions = new Float64Array(3 * count);
  const stray = new Uint8Array(count);
  const relation: Relation = {
    count,
    u: new Float64Array(count),
    height: new Float64Array(count),
    deviation: new Float64Array(count),
    flag: new Uint8Array(count).fill(POINT_USED),
  };
  const place = new Float64Array(PLACE_SIZE);
  const n = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    const column = even ? (i % across) + 0.5 + 0.4 * (uniform() - 0.5) : across * uniform();
    const row = even ? Math.floor(i / across) + 0.5 + 0.4 * (uniform() - 0.5) : rows * uniform();
    const u = uMin + ((uMax - uMin) * column) / across;
    const height = from + ((to - from) * row) / rows;
    evaluateSurface(surface, u, height, place);
    placeNormal(surface, place, n);
    let push = noise * normal();
    if (deformed) push += deformation((u - uMin) / (uMax - uMin), height, n[0], n[1]);
    if (planted) push += planted(alongAt(surface, u, height), height, u);
    if (uniform() < strays) {
      stray[i] = 1;
      push += (uniform() < 0.5 ? -1 : 1) * uniform();
    }
    relation.u[i] = u;
    relation.height[i] = height;
    relation.deviation[i] = push;
    for (let k = 0; k < 3; k++) positions[3 * i + k] = place[k] + push * n[k];
  }
  return { positions, relation, stray };
}

/** The relation of such a scan, feet found anew as for any scan. */
export async function plantedRelation(target: NominalTarget, scan: PlantedScan): Promise<Relation> {
  return relatePoints(target, plantedPoints(target, scan).positions, identityPose(), { gate: 3 }, {});
}
