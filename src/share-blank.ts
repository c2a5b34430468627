import { type BlankCells, blankCells } from './blank-cells.ts';
import { type BlankPlacement, type BlankRanges, type KeptBlank, referencePose } from './kept-blank.ts';
import { invertPose, movePoints } from './math/rigid.ts';
import type { RunContext } from './model/context.ts';
import type { PlanStock } from './model/plan.ts';
import type { Pose } from './model/pose.ts';
import { POINT_USED } from './model/relation.ts';
import type { StockCells, StockZone } from './model/stock-cells.ts';
import { AXES } from './place/share-axes.ts';
import { type SharedStock, shareStock } from './place/share-stock.ts';
import { relatePoints } from './relate/relate-points.ts';
import { PLACE_SIZE } from './spatial/surface-evaluate.ts';
import { placeCell } from './stock/stock-cells.ts';
import { stockWanted } from './stock/stock-zones.ts';

/** Rounds of averaging the blank's points anew in the placement found. */
const ROUNDS = 2;
/** Descents of the first round, from places about the best fit; the later ones start where the last ended. */
const STARTS = 2;

/**
 * Returns the placement of a kept blank that shares its stock evenly; kept until something else is asked for.
 * @throws as `shareStock`
 */
export async function sharePlacement(
  kept: KeptBlank,
  zones: readonly StockZone[],
  asked: Pick<BlankPlacement, 'locks' | 'ranges'>,
  context: RunContext,
): Promise<SharedStock> {
  const { plan, settings } = kept.prepared;
  const locks = asked.locks ?? plan?.stock?.locks ?? settings.locks;
  const wanted = asked.ranges ?? given(plan?.stock?.ranges);
  const key = JSON.stringify([zones, locks, wanted]);
  if (kept.shared?.key === key) return kept.shared.result;
  context.onProgress?.({ step: 'share stock', done: 0, total: 1 });
  const { pivot, rotationOrder } = kept.fit;
  const from = referencePose(kept);
  const { factor } = stockWanted(plan);
  let result: SharedStock | null = null;
  let ranges: BlankRanges = wanted;
  for (let round = 0; round < ROUNDS; round++) {
    const start: Pose = result?.pose ?? from;
    const averaged = await averagedBlank(kept, start, context);
    if (round === 0) ranges = withinEnds(wanted, averaged.room);
    const starts = round === 0 ? STARTS : 1;
    const options = { zones, locks, ranges, from, pivot, rotationOrder, factor, starts };
    result = await shareStock(averaged.field, start, options, context);
  }
  const heldAxes = AXES.filter((axis) => locks.includes(axis) || wanted[axis] !== undefined);
  kept.shared = { key, result: result!, heldAxes };
  return result!;
}

interface AveragedBlank extends Pick<BlankCells, 'room'> {
  /** Stock of the averaged points in any placement near by. */
  field: (pose: Pose) => Promise<StockCells>;
}

/** The blank's points averaged by cells in one placement: few points that stand for all in other placements near by. */
async function averagedBlank(kept: KeptBlank, pose: Pose, context: RunContext): Promise<AveragedBlank> {
  const { target } = kept.prepared;
  const { surface } = target;
  const { gate } = kept;
  const quiet: RunContext = context.signal ? { signal: context.signal } : {};
  const { cells, room } = await blankCells(kept, pose, quiet);
  const inverse = invertPose(pose);
  const own = new Float64Array(3 * cells.count);
  for (let k = 0; k < own.length; k++) {
    const stock = cells.stock[Math.floor(k / 3)];
    own[k] = cells.point[k] + (Number.isNaN(stock) ? 0 : stock) * cells.normal[k];
  }
  movePoints(inverse, own, own);
  const place = new Float64Array(PLACE_SIZE);
  const field = async (at: Pose): Promise<StockCells> => {
    const moved = await relatePoints(target, own, at, { gate }, quiet);
    const there: StockCells = {
      ...cells,
      u: moved.u,
      height: moved.height,
      along: new Float64Array(cells.count),
      point: new Float64Array(3 * cells.count),
      normal: new Float64Array(3 * cells.count),
      stock: moved.deviation,
    };
    for (let k = 0; k < cells.count; k++) {
      if (Number.isNaN(cells.stock[k]) || moved.flag[k] !== POINT_USED) there.stock[k] = Number.NaN;
      placeCell(surface, there, k, place);
    }
    return there;
  };
  return { field, room };
}

/** The ranges of a plan that are there. */
function given(ranges: PlanStock['ranges'] = {}): BlankRanges {
  return Object.fromEntries(Object.entries(ranges).filter(([, range]) => range !== undefined));
}

/** Allowed ranges that keep the finished aerofoil inside the measured length of the blank. */
function withinEnds(ranges: BlankRanges, room: AveragedBlank['room']): BlankRanges {
  const [low, high] = ranges.z ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  return { ...ranges, z: [Math.max(low, Math.min(0, -room.down)), Math.min(high, Math.max(0, room.up))] };
}
