import { CamberwrightError } from './error.ts';
import type { Pose } from './model/pose.ts';
import type { LoadedShape } from './model/shape.ts';
import type { Placement } from './place/place-part.ts';
import { nominalNormals } from './probe/nominal-normals.ts';
import { type ProbedPoints, type ProbeSettings, probedPoints } from './probed-points.ts';
import type { NominalTarget } from './spatial/nominal-target.ts';

/** Where a fit starts that may leave the part larger or smaller all round, and how far its points may lie off (mm). */
export interface NearPlacement {
  pose: Pose;
  handedness: Placement['handedness'];
  gate: number;
}

/** Places points on the nominal: from nowhere, or near a placement. */
export type PlaceFunction = (points: Float64Array, near?: NearPlacement) => Promise<Placement>;

/** The gate about points that were not compensated, in tip radii. */
const GATE_RADII = 4;

/**
 * Returns the measured points, ball centres moved onto the part, and their placement. Centres that show no surface of
 * their own are placed first as they are, and moved along the nominal's normals there. Points read as compensated that
 * cannot be placed are placed where they would lie as centres; they stay as they were read, so that the missing tip
 * radius shows in their distances.
 * @throws what `probedPoints` and `place` throw; where the part cannot be placed and its centres look as if they were
 *   none, that
 */
export async function placeProbed(
  measured: readonly LoadedShape[],
  settings: ProbeSettings,
  target: NominalTarget,
  place: PlaceFunction,
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
    const near = isUnplaced(error) ? await nearAsCentres(measured, settings, probed, place) : null;
    if (near === null) throw probed.doubt ?? error;
    return { probed, placed: await place(probed.positions, near) };
  }
}

function isUnplaced(error: unknown): boolean {
  return error instanceof CamberwrightError && error.code.startsWith('place/');
}

/** The placement of points read as compensated if they were ball centres; null when they cannot be. */
async function nearAsCentres(
  measured: readonly LoadedShape[],
  settings: ProbeSettings,
  { files }: ProbedPoints,
  place: PlaceFunction,
): Promise<NearPlacement | null> {
  const read = files.flatMap(({ reading }) => (reading?.points === 'compensated' ? (reading.tipRadius ?? []) : []));
  if (read.length === 0) return null;
  try {
    const asCentres = probedPoints(measured, { ...settings, probe: { ...settings.probe, points: 'centres' } });
    if (asCentres.waiting) return null;
    const { pose, handedness } = await place(asCentres.positions);
    return { pose, handedness, gate: GATE_RADII * Math.max(...read) };
  } catch (error) {
    if (error instanceof CamberwrightError && error.code !== 'cancelled') return null;
    throw error;
  }
}
