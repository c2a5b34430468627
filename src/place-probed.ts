import type { LoadedShape } from './model/shape.ts';
import type { Placement } from './place/place-part.ts';
import { nominalNormals } from './probe/nominal-normals.ts';
import { type ProbedPoints, type ProbeSettings, probedPoints } from './probed-points.ts';
import type { NominalTarget } from './spatial/nominal-target.ts';

/**
 * Returns the measured points, ball centres moved onto the part, and their placement. Centres that show no surface of
 * their own are placed first as they are, and moved along the nominal's normals there.
 * @throws what `probedPoints` and `place` throw; where the part cannot be placed and its centres look as if they were
 *   none, that
 */
export async function placeProbed(
  measured: readonly LoadedShape[],
  settings: ProbeSettings,
  target: NominalTarget,
  place: (points: Float64Array) => Promise<Placement>,
): Promise<{ probed: ProbedPoints; placed: Placement }> {
  let probed = probedPoints(measured, settings);
  if (probed.waiting) {
    const { pose, handedness } = await place(probed.positions);
    const normals = nominalNormals(target, probed.positions, pose, handedness === 'mirrored');
    probed = probedPoints(measured, settings, { normals, files: probed.files });
  }
  try {
    return { probed, placed: await place(probed.positions) };
  } catch (error) {
    throw probed.doubt ?? error;
  }
}
