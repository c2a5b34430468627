import { blankCells } from './blank-cells.ts';
import { type BlankView, viewBlank } from './blank-view.ts';
import { CamberwrightError, warning } from './error.ts';
import { type BlankPlacement, blankZones, type KeptBlank } from './kept-blank.ts';
import type { RunContext } from './model/context.ts';
import type { Pose } from './model/pose.ts';
import type { LoadedShape } from './model/shape.ts';
import { type DatumFit, datumFit } from './place/datum-fit.ts';
import { type PlaceOptions, placePart } from './place/place-part.ts';
import { givenPlacement } from './place/to-alignment.ts';
import { placeProbed } from './place-probed.ts';
import { type InspectInput, type PipelineContext, prepare } from './prepare.ts';
import { meshPoints } from './relate/mesh-points.ts';
import { sharePlacement } from './share-blank.ts';
import { findFeetHere } from './spatial/find-feet.ts';
import { stopwatch } from './stopwatch.ts';
import { surfacePlaces } from './surface-places.ts';

export type { BlankPlacement } from './kept-blank.ts';

/** A blank in its first placement, kept for others. */
export interface BlankReview extends BlankView {
  /** What `placeBlank` works on. */
  kept: KeptBlank;
}

/** Distance of points spread over coarse meshes, in cells of the map. */
const MESH_SPACING = 1;
/** An end that sticks out by less stays where it is (mm). */
const LEAST_SHIFT = 0.02;
/** The gate about a blank: share of the span, and least (mm). Stock is thicker than any deviation of a finished part. */
const GATE = { share: 0.03, least: 2 };

/**
 * Returns the stock of a blank against the finished blade: placement by best fit (or as given), map, stock with its
 * verdicts, the placement that shares the stock evenly, and values for the control.
 * @throws as `inspect` and `placeBlank`
 */
export async function reviewBlank(
  input: InspectInput,
  context: PipelineContext,
  asked: BlankPlacement = { method: input.pose ? 'given' : 'best-fit', ...(input.pose ? { matrix: input.pose } : {}) },
): Promise<BlankReview> {
  const clock = stopwatch();
  const prepared = await prepare(input, context);
  const { settings, target, blade } = prepared;
  clock.lap('nominal');
  const finder = context.finder ?? findFeetHere;
  const quiet: RunContext = context.signal ? { signal: context.signal } : {};
  const { heights } = blade.surface;
  const gate = settings.gate ?? Math.max(GATE.least, GATE.share * (heights[heights.length - 1] - heights[0]));
  const spread = input.measured.map((file) => withoutGaps(file, MESH_SPACING * settings.mapCell));
  const place = (points: Float64Array, more: Partial<PlaceOptions>) =>
    placePart(
      target,
      points,
      {
        locks: settings.locks,
        pivot: settings.pivot,
        rotationOrder: settings.rotationOrder,
        gate,
        oversize: 'free',
        acceptPose: input.acceptPose ?? false,
        ...more,
      },
      context,
      (moved, feet, farthest) => finder(target, moved, null, feet, farthest, quiet),
    );
  const given = input.pose ? { pose: givenPose(input.pose), handedness: 'proper' as const } : null;
  const { probed, placed } = await placeProbed(spread, settings, target, (points, near) =>
    place(points, {
      gate: Math.max(gate, near?.gate ?? 0),
      given: near ?? given,
      refine: near !== undefined || settings.locks.length > 0,
    }),
  );
  clock.lap('place');
  if (placed.handedness === 'mirrored') throw mirroredBlank();
  const kept: KeptBlank = {
    prepared,
    points: probed.positions,
    surface: input.measured.length === 1 ? input.measured[0].shape : null,
    gate,
    finder,
    fit: placed,
    zones: blankZones(prepared),
    // Stock makes every blank larger all round; that is no remark of a blank.
    warnings: [
      ...probed.warnings,
      ...blade.warnings,
      ...placed.warnings.filter(({ code }) => code !== 'place/oversize'),
    ],
    shared: null,
    seen: new WeakMap(),
    judged: null,
    datum: null,
  };
  const shift = given === null ? await shiftToEnds(kept, quiet) : 0;
  if (shift !== 0) {
    const { rotation, translation } = kept.fit.pose;
    const pose = { rotation, translation: translation.map((t, axis) => (axis === 2 ? t + shift : t)) };
    const locks = [...new Set([...settings.locks, 'z' as const])];
    const held = await place(kept.points, { locks, given: { pose, handedness: 'proper' }, refine: true });
    kept.fit = { ...held, rivalRatio: kept.fit.rivalRatio, locks: settings.locks };
    kept.warnings.push(
      warning(
        'place/held-by-ends',
        `The stock hardly holds the blank along the span; it was moved by ${shift.toFixed(3)} mm so that it covers both ends.`,
        null,
        'Name datum targets in the plan, or lock Z where the blank lies in its own frame.',
      ),
    );
    clock.lap('place');
  }
  if (prepared.plan?.datumTargets) kept.datum = await datumOrWarning(kept, asked.method, context);
  clock.lap('place');
  return { ...(await placeBlank(kept, asked, context, clock)), kept };
}

/** The nest's placement; where it cannot be had and was not asked for, null and a warning. */
async function datumOrWarning(
  kept: KeptBlank,
  method: BlankPlacement['method'],
  context: RunContext,
): Promise<DatumFit | null> {
  try {
    return await datumPlacement(kept, context);
  } catch (error) {
    if (method === 'datum' || !(error instanceof CamberwrightError) || error.code === 'cancelled') throw error;
    const { code, message, where, remedy } = error;
    kept.warnings.push(
      warning(
        code,
        `The datum targets cannot be met; locks and ranges count from the best fit. ${message}`,
        where,
        remedy,
      ),
    );
    return null;
  }
}

/**
 * How far a blank held weakly along the span is to move so that the finished blade does not stick out of it (mm): as far
 * as one end needs and the other end has room for; 0 where nothing sticks out, or the span is held.
 */
async function shiftToEnds(kept: KeptBlank, context: RunContext): Promise<number> {
  if (kept.prepared.settings.locks.includes('z')) return 0;
  if (!kept.fit.plays.some(({ weak, motion }) => weak && Math.abs(motion[2]) > 0.5)) return 0;
  const { down, up } = (await blankCells(kept, kept.fit.pose, context)).room;
  if (down < -LEAST_SHIFT && up > 0) return Math.min(-down, up);
  if (up < -LEAST_SHIFT && down > 0) return -Math.min(-up, down);
  return 0;
}

/**
 * Returns a kept blank in another placement, judged on all its points.
 * @throws `plan/no-datum-targets`, `plan/datum-targets`, `place/datum-target`, `usage/pose`, and as `shareStock`
 */
export async function placeBlank(
  kept: KeptBlank,
  asked: BlankPlacement,
  context: PipelineContext,
  clock = stopwatch(),
): Promise<BlankView> {
  const zones = asked.wanted ? wantedZones(kept, asked.wanted) : kept.zones.zones;
  const datum = asked.method === 'datum' ? (kept.datum ?? (await datumPlacement(kept, context))) : null;
  const best = await sharePlacement(kept, zones, asked, context);
  clock.lap('share stock');
  const { heldAxes } = kept.shared!;
  const shared = { method: 'share-stock' as const, pose: best.pose, shared: best, heldAxes };
  if (asked.method === 'share-stock') return viewBlank(kept, zones, { placed: shared, better: null }, context, clock);
  if (datum !== null) {
    const { pose, iterations: _, ...record } = datum;
    const placed = { method: 'datum' as const, pose, shared: null };
    return viewBlank(kept, zones, { placed, better: shared, datum: record }, context, clock);
  }
  const pose = asked.method === 'given' && asked.matrix ? givenPose(asked.matrix) : kept.fit.pose;
  const method = asked.method === 'given' ? ('given' as const) : kept.fit.method;
  return viewBlank(kept, zones, { placed: { method, pose, shared: null }, better: shared }, context, clock);
}

/** The nest's placement, its uncertainty judged over the finished surface. */
async function datumPlacement(kept: KeptBlank, context: RunContext): Promise<DatumFit> {
  const { plan, target } = kept.prepared;
  const targets = plan?.datumTargets;
  const { surface } = kept;
  if (!targets)
    throw new CamberwrightError('plan/no-datum-targets', 'The plan names no datum targets.', {
      remedy: 'Give six targets as "datumTargets" in the plan, or choose another placement.',
    });
  if (surface === null || surface.kind === 'sections')
    throw new CamberwrightError(
      'place/datum-target',
      'The datum targets need one measured surface: a mesh or a cloud.',
      {
        remedy: 'Open one scan of the blank.',
      },
    );
  return datumFit(targets, surface, kept.fit.pose, context, surfacePlaces(target.surface, kept.zones.reaches[0]));
}

function wantedZones(kept: KeptBlank, wanted: { least: number; most: number | null }) {
  return kept.zones.zones.map((zone) => ({ ...zone, ...wanted }));
}

/** The pose of a given matrix. @throws `usage/pose`; `place/mirrored` for one with a reflection */
function givenPose(matrix: readonly number[]): Pose {
  const { pose, handedness } = givenPlacement(matrix);
  if (handedness === 'mirrored') throw mirroredBlank();
  return pose;
}

/** No motion of a machine turns a blank into its mirror image. */
function mirroredBlank(): CamberwrightError {
  return new CamberwrightError('place/mirrored', 'The blank fits the finished blade only as its mirror image.', {
    remedy: 'Use the nominal of the other hand, or check the axes of the scan.',
  });
}

/** A mesh as points with no gap wider than `spacing` (mm); other shapes as they are. */
function withoutGaps(file: LoadedShape, spacing: number): LoadedShape {
  if (file.shape.kind !== 'mesh') return file;
  return { ...file, shape: { kind: 'cloud', positions: meshPoints(file.shape, spacing) } };
}
