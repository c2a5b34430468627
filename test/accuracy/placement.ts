/** Placement from no guess over all of SO(3): the undeformed blade as a cloud with noise or as a mesh, and mirrored. */
import { makeScan } from '../../samples/scan.ts';
import { evenHeights, exactSections, makeMesh } from '../../samples/tessellate.ts';
import { CamberwrightError } from '../../src/error.ts';
import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import { seededRandom } from '../../src/math/random.ts';
import { invertPose, movePoints, randomRotation } from '../../src/math/rigid.ts';
import type { Pose } from '../../src/model/pose.ts';
import { placePart } from '../../src/place/place-part.ts';
import { makeNominalTarget } from '../../src/spatial/nominal-target.ts';
import { placementError } from '../support/placement-error.ts';

export const PLACEMENT_LIMITS = { acrossUm: 1, alongUm: 5, turnDeg: 0.005 };

export interface PlacementFigures {
  kind: 'cloud' | 'mesh';
  motions: number;
  /** Largest errors at mid-span. */
  acrossUm: number;
  alongUm: number;
  turnDeg: number;
  /** Smallest stated play of the weakest motion (um). */
  leastPlayUm: number;
  /** Mirrored parts that were reported. */
  mirrored: number;
}

/** Places the blade under `motions` seeded motions, each also mirrored. */
export async function placementFigures(kind: PlacementFigures['kind'], motions: number): Promise<PlacementFigures> {
  const target = makeNominalTarget(nominalFromTable(exactSections(evenHeights(21), 400), {}).surface);
  const { positions } = makeMesh({ closed: false });
  const worst = { acrossUm: 0, alongUm: 0, turnDeg: 0 };
  let leastPlayUm = Number.POSITIVE_INFINITY;
  let mirrored = 0;
  for (let seed = 1; seed <= motions; seed++) {
    const random = seededRandom(seed);
    const pose: Pose = {
      rotation: randomRotation(random),
      translation: Float64Array.from({ length: 3 }, () => 400 * (random() - 0.5)),
    };
    const points =
      kind === 'cloud'
        ? makeScan({ points: 200_000, seed, noise: 0.005, pose }).cloud.positions
        : movePoints(invertPose(pose), positions);
    const placed = await placePart(target, points);
    const error = placementError(placed.pose, pose, 60);
    for (const key of ['acrossUm', 'alongUm', 'turnDeg'] as const) worst[key] = Math.max(worst[key], error[key]);
    leastPlayUm = Math.min(leastPlayUm, 1000 * placed.plays[0].play);
    if (await isReportedMirrored(() => placePart(target, mirror(points)))) mirrored++;
  }
  return { kind, motions, ...worst, leastPlayUm, mirrored };
}

function mirror(points: Float64Array): Float64Array {
  return points.map((value, i) => (i % 3 === 0 ? -value : value));
}

async function isReportedMirrored(place: () => Promise<unknown>): Promise<boolean> {
  try {
    await place();
    return false;
  } catch (thrown) {
    if (thrown instanceof CamberwrightError && thrown.code === 'place/mirrored') return true;
    throw thrown;
  }
}
