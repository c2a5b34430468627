/** Placement from no guess over all of SO(3): the undeformed blade as a cloud with noise and as a mesh, and mirrored. */
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

const LIMITS = { acrossUm: 1, alongUm: 5, turnDeg: 0.005 };

/** Prints the largest errors; false when one is beyond its limit or a mirrored part is accepted. */
export async function placementAccuracy(motions: number): Promise<boolean> {
  const target = makeNominalTarget(nominalFromTable(exactSections(evenHeights(21), 400), {}).surface);
  const { positions } = makeMesh({ closed: false });
  let kept = true;
  for (const kind of ['cloud', 'mesh'] as const) {
    const worst = { acrossUm: 0, alongUm: 0, turnDeg: 0 };
    let wrong = 0;
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
      const placed = await placePart(target, points, {}, {});
      const error = placementError(placed.pose, pose, 60);
      if (error.acrossUm > 1000) wrong++;
      for (const key of ['acrossUm', 'alongUm', 'turnDeg'] as const) worst[key] = Math.max(worst[key], error[key]);
      const mirror = points.map((value, i) => (i % 3 === 0 ? -value : value));
      try {
        await placePart(target, mirror, {}, {});
      } catch (thrown) {
        if (thrown instanceof CamberwrightError && thrown.code === 'place/mirrored') mirrored++;
        else throw thrown;
      }
    }
    const good =
      wrong === 0 &&
      mirrored === motions &&
      worst.acrossUm < LIMITS.acrossUm &&
      worst.alongUm < LIMITS.alongUm &&
      worst.turnDeg < LIMITS.turnDeg;
    kept &&= good;
    console.log(
      `${kind}: ${motions} motions, ${wrong} placed wrong, worst ${worst.acrossUm.toFixed(3)} um across, ` +
        `${worst.alongUm.toFixed(3)} um along the span, ${worst.turnDeg.toFixed(5)} deg; ` +
        `${mirrored} of ${motions} mirrored ones reported ${good ? '' : '(beyond the limits)'}`,
    );
  }
  return kept;
}
