import { CamberwrightError } from '../error.ts';
import { median } from '../math/median.ts';
import type { RunContext } from '../model/context.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import { type CoarsePose, type CoarseSearch, coarseSearch, findCoarsePose } from './coarse-pose.ts';

/** Largest residual of a coarse placement, share of the nominal's size: more is another blade. */
const RESIDUAL_MOST = 0.002;
/** Least share of the nominal that must be explained. */
const NOMINAL_LEAST = 0.015;
/** Least residual of the best rival over that of the winner. */
export const RIVAL_LEAST = 1 / 0.7;

const INCH = 25.4;
/** Sizes that differ by more than this make the unit suspect before anything is tried. */
const SIZE_SUSPECT = 5;
/** Share of the nominal that a rescaled part must explain to be called the same blade. */
const RESCALED_LEAST = 0.2;

/**
 * Returns the coarse pose of a measured part once it is sure to be this blade, in this unit.
 *
 * @param accept takes a mirrored, ambiguous or doubtful placement knowingly
 * @throws `place/unit-ratio`, `place/not-this-blade`, `place/mirrored`, `place/ambiguous`
 */
export async function judgedCoarsePose(
  target: NominalTarget,
  points: Float64Array,
  accept: boolean,
  context: RunContext,
): Promise<CoarsePose> {
  const search = coarseSearch(target);
  const ratio = middleRadius(points) / middleRadius(target.mesh.positions);
  if (ratio > SIZE_SUSPECT || ratio < 1 / SIZE_SUSPECT)
    await refuseOtherUnit(search, points, ratio > 1 ? [1 / INCH] : [INCH], context);
  const coarse = await findCoarsePose(search, points, context);
  if (accept) return coarse;
  if (coarse.residual > RESIDUAL_MOST * coarse.size || coarse.nominal < NOMINAL_LEAST) {
    await refuseOtherUnit(search, points, [INCH, 1 / INCH], context);
    const share = Math.round(100 * coarse.nominal);
    throw new CamberwrightError(
      'place/not-this-blade',
      `The measured part does not fit the nominal: at its best, ${share} % of the aerofoil agrees to ${coarse.residual.toFixed(3)} mm rms.`,
      { remedy: 'Check that both files are of the same part and unit; --accept-pose goes on with the best placement.' },
    );
  }
  if (coarse.rivalRatio !== null && coarse.rivalRatio < RIVAL_LEAST)
    throw new CamberwrightError(
      'place/ambiguous',
      `Two placements fit almost alike (residuals ${coarse.residual.toFixed(4)} and ${(coarse.residual * coarse.rivalRatio).toFixed(4)} mm rms).`,
      { remedy: 'Measure more of the part, give its placement with --pose, or go on with --accept-pose.' },
    );
  if (coarse.handedness === 'mirrored')
    throw new CamberwrightError(
      'place/mirrored',
      `The measured part is the mirror image of the nominal (agrees to ${coarse.residual.toFixed(4)} mm rms when mirrored).`,
      { remedy: 'Use the nominal of the other hand, check the axes of the export, or go on with --accept-pose.' },
    );
  return coarse;
}

async function refuseOtherUnit(
  search: CoarseSearch,
  points: Float64Array,
  scales: number[],
  context: RunContext,
): Promise<void> {
  for (const scale of scales) {
    const found = await findCoarsePose(
      search,
      points.map((value) => value * scale),
      context,
    );
    if (found.residual > RESIDUAL_MOST * found.size || found.nominal < RESCALED_LEAST) continue;
    const smaller = scale > 1;
    throw new CamberwrightError(
      'place/unit-ratio',
      `The measured part is 25.4 times ${smaller ? 'smaller' : 'larger'} than the nominal: one of the two files is in inches and was read in millimetres, or the other way round.`,
      {
        remedy: smaller
          ? 'Read the measured file in inches: --unit-measured inch.'
          : 'Read the measured file in millimetres (--unit-measured mm), or the nominal in inches (--unit-nominal inch).',
      },
    );
  }
}

/** Median distance from the point of median coordinates (mm): a size that strays hardly touch. */
function middleRadius(points: Float64Array): number {
  const count = points.length / 3;
  const stride = Math.max(1, Math.ceil(count / 5000));
  const sample = Array.from({ length: Math.floor((count - 1) / stride) + 1 }, (_, k) => 3 * k * stride);
  const centre = [0, 1, 2].map((c) => median(sample.map((i) => points[i + c])));
  return median(
    sample.map((i) => Math.hypot(points[i] - centre[0], points[i + 1] - centre[1], points[i + 2] - centre[2])),
  );
}
