import { CamberwrightError, type Warning } from '../error.ts';
import { identityPose } from '../math/rigid.ts';
import type { RunContext } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';
import { BEST_FIT_DEFAULTS, type BestFit, type BestFitOptions, bestFit, type RelatePoints } from './best-fit.ts';
import { type CoarsePose, type Handedness, mirroredPoints, nominalSize } from './coarse-pose.ts';
import { judgedCoarsePose, RIVAL_LEAST } from './place-judgement.ts';
import { placeWarnings } from './place-warnings.ts';
import type { RotationOrder } from './pose-readings.ts';

/** Whether the part may be larger or smaller all round: `auto` lets it where the coarse pose shows it clearly. */
export type Oversize = 'auto' | 'free' | 'none';

export interface PlaceOptions extends Omit<BestFitOptions, 'oversize' | 'steps'> {
  oversize: Oversize;
  /** Placement given instead of found, measured → nominal (moves the points with x reversed when mirrored). */
  given: { pose: Pose; handedness: Handedness } | null;
  /** Fits on from the given placement. */
  refine: boolean;
  /** Takes a mirrored, ambiguous or doubtful placement knowingly. */
  acceptPose: boolean;
  rotationOrder: RotationOrder;
}

export const PLACE_DEFAULTS: PlaceOptions = {
  locks: [],
  pivot: null,
  weights: BEST_FIT_DEFAULTS.weights,
  robust: BEST_FIT_DEFAULTS.robust,
  gate: null,
  oversize: 'auto',
  given: null,
  refine: false,
  acceptPose: false,
  rotationOrder: 'RzRyRx',
};

/** Where a measured part is on the nominal, and how that was found. */
export interface Placement extends BestFit {
  method: 'best-fit' | 'given';
  handedness: Handedness;
  rivalRatio: number | null;
  rotationOrder: RotationOrder;
  /** Found without an initial guess; null for a given placement and for locked fits. */
  coarse: CoarsePose | null;
  warnings: Warning[];
}

/** Least number of points a placement can stand on. */
const POINTS_LEAST = 30;
/** The gate: share of the size, or multiples of the coarse residual. */
const GATE = { share: 0.01, residuals: 8 };

/**
 * Returns the placement of a measured part on the nominal: coarse pose with no initial guess, judged, then best fit.
 * With locks the fit starts from the given placement, or from the file's own position, because a lock keeps what the
 * coordinates say. The nominal's aerofoil alone counts: points past its ends or beyond the gate are left out.
 *
 * @param points measured points or mesh vertices, x0, y0, z0, … (mm)
 * @param relate see {@link RelatePoints}
 * @throws `place/too-few-points` and what {@link judgedCoarsePose} throws
 */
export async function placePart(
  target: NominalTarget,
  points: Float64Array,
  options: Partial<PlaceOptions> = {},
  context: RunContext = {},
  relate?: RelatePoints,
): Promise<Placement> {
  const settings = { ...PLACE_DEFAULTS, ...options };
  if (points.length < 3 * POINTS_LEAST) throw tooFewPoints(points.length / 3);
  const { given, locks } = settings;
  const isFound = given === null && locks.length === 0;
  context.onProgress?.({ step: 'find the place', done: 0, total: 1 });
  const coarse = isFound ? await judgedCoarsePose(target, points, settings.acceptPose, context) : null;
  const handedness = coarse?.handedness ?? given?.handedness ?? 'proper';
  const start = coarse?.pose ?? given?.pose ?? identityPose();
  const moved = handedness === 'mirrored' ? mirroredPoints(points) : points;
  const size = nominalSize(target);
  const own = coarse === null ? 0 : GATE.residuals * coarse.residual + Math.abs(coarse.offset);
  const { oversize, ...rest } = settings;
  const fitOptions: Partial<BestFitOptions> = {
    locks,
    pivot: rest.pivot,
    weights: rest.weights,
    robust: rest.robust,
    gate: rest.gate ?? Math.max(GATE.share * size, own),
    oversize: oversize === 'free' || (oversize === 'auto' && coarse !== null && coarse.offset !== 0),
  };
  if (given !== null && !settings.refine) fitOptions.steps = 0;
  const fit = await bestFit(target, moved, start, fitOptions, context, relate);
  if (fit.residual.count < POINTS_LEAST) throw tooFewPoints(fit.residual.count);
  return {
    ...fit,
    method: given !== null && !settings.refine ? 'given' : 'best-fit',
    handedness,
    rivalRatio: coarse?.rivalRatio ?? null,
    rotationOrder: settings.rotationOrder,
    coarse,
    warnings: placeWarnings(fit, coarse, target.surface, RIVAL_LEAST),
  };
}

function tooFewPoints(count: number): CamberwrightError {
  return new CamberwrightError(
    'place/too-few-points',
    `Only ${count} measured points lie on the aerofoil; at least ${POINTS_LEAST} are needed.`,
    { remedy: 'Check the placement and the unit, or measure more of the part.' },
  );
}
