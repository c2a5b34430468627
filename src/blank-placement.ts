import { poseToMatrix } from './math/rigid.ts';
import type { Pose } from './model/pose.ts';
import type { Place } from './model/results.ts';
import type { StockCells, StockZone } from './model/stock-cells.ts';
import type { HeldBy, SpareCurve, StockPlacement } from './model/stock-results.ts';
import { measured, unmeasured } from './model/value.ts';
import type { SharedStock } from './place/share-stock.ts';
import { leastSpare } from './place/spare-curves.ts';
import type { Axis } from './settings.ts';

/** Definition of the spare stock: least of (stock − wanted) over the share of each zone. */
const SPARE = 'STOCK-SPARE';

/** How a placement of a blank was found. */
export interface PlacedBy {
  method: StockPlacement['method'];
  pose: Pose;
  /** Present where stock was shared, with the axes a lock or range held. */
  shared: SharedStock | null;
  heldAxes?: readonly Axis[];
}

/**
 * Returns a placement as the results tell it: its spare stock on all points, what holds it and the curves of its axes.
 * A placement that was not optimised is held by its one least place.
 * @param cells stock in this placement
 * @param placeOf the place of one of some cells
 * @param factor times the uncertainty of a cell wanted on top
 */
export function placementRecord(
  placed: PlacedBy,
  cells: StockCells,
  zones: readonly StockZone[],
  curves: SpareCurve[],
  placeOf: (cells: StockCells, cell: number) => Place,
  factor: number,
): StockPlacement {
  const least = leastSpare(cells, zones, undefined, factor);
  const { shared } = placed;
  const heldBy: HeldBy[] =
    shared === null
      ? least.cell < 0
        ? []
        : [held(cells, zones, least.cell, 1, 'least', placeOf)]
      : shared.heldBy.map(({ cell, weight, limit }) => held(shared.cells, zones, cell, weight, limit, placeOf));
  return {
    method: placed.method,
    matrix: poseToMatrix(placed.pose),
    spare:
      least.cell < 0
        ? unmeasured('not-measured', 'No cell is measured.', 'mm', SPARE)
        : measured(least.spare, cells.uStock[least.cell], 'mm', SPARE),
    heldBy,
    levels: shared === null ? [] : shared.levels.map(({ zone, spare }) => ({ zone: zones[zone].name, spare })),
    ...(placed.heldAxes?.length ? { heldAxes: [...placed.heldAxes] } : {}),
    iterations: shared?.iterations ?? 0,
    converged: shared?.converged ?? true,
    curves,
  };
}

function held(
  cells: StockCells,
  zones: readonly StockZone[],
  cell: number,
  weight: number,
  limit: HeldBy['limit'],
  placeOf: (cells: StockCells, cell: number) => Place,
): HeldBy {
  return { place: placeOf(cells, cell), zone: zones[cells.zone[cell]].name, weight, limit, stock: cells.stock[cell] };
}
