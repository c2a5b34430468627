import type { BlankPlacement, KeptBlank } from './kept-blank.ts';
import type { RunContext } from './model/context.ts';
import type { Pose } from './model/pose.ts';
import type { StockCells, StockZone } from './model/stock-cells.ts';
import { type SharedStock, shareStock } from './place/share-stock.ts';
import { relatePoints } from './relate/relate-points.ts';
import { MAP_DEFAULTS, surfaceMap } from './relate/surface-map.ts';
import { stockCells } from './stock/stock-cells.ts';
import { stockWanted } from './stock/stock-zones.ts';

/** Points the placement is sought with; the answer is judged on all. */
const SHARE_POINTS = 250_000;

/** Returns the placement of a kept blank that shares its stock evenly; kept until something else is asked for. */
export async function sharePlacement(
  kept: KeptBlank,
  zones: readonly StockZone[],
  asked: Pick<BlankPlacement, 'locks' | 'ranges'>,
  context: RunContext,
): Promise<SharedStock> {
  const { plan, settings } = kept.prepared;
  const locks = asked.locks ?? plan?.stock?.locks ?? settings.locks;
  const ranges = asked.ranges ?? plan?.stock?.ranges ?? {};
  const key = JSON.stringify([zones, locks, ranges]);
  if (kept.shared?.key === key) return kept.shared.result;
  context.onProgress?.({ step: 'share stock', done: 0, total: 1 });
  const { pivot, rotationOrder } = kept.fit;
  const result = await shareStock(stockField(kept, context), kept.fit.pose, {
    zones,
    locks,
    ranges,
    pivot,
    rotationOrder,
    factor: stockWanted(plan).factor,
  });
  kept.shared = { key, result };
  return result;
}

/** Stock by cells in any pose, on points spread evenly over the blank. */
function stockField(kept: KeptBlank, context: RunContext): (pose: Pose) => Promise<StockCells> {
  const { target, settings } = kept.prepared;
  const { surface } = target;
  const points = evenPoints(kept.points);
  const quiet: RunContext = context.signal ? { signal: context.signal } : {};
  return async (pose) => {
    const relation = await relatePoints(target, points, pose, { gate: kept.gate, finder: kept.finder }, quiet);
    const map = surfaceMap(surface, relation, { ...MAP_DEFAULTS, cell: settings.mapCell });
    return stockCells(surface, relation, map, kept.zones.reaches);
  };
}

/** All points, or an even choice of them where there are many. */
function evenPoints(points: Float64Array): Float64Array {
  const count = points.length / 3;
  if (count <= SHARE_POINTS) return points;
  const stride = count / SHARE_POINTS;
  const out = new Float64Array(3 * SHARE_POINTS);
  for (let k = 0; k < SHARE_POINTS; k++) {
    const i = 3 * Math.floor(k * stride);
    out[3 * k] = points[i];
    out[3 * k + 1] = points[i + 1];
    out[3 * k + 2] = points[i + 2];
  }
  return out;
}
