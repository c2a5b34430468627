import { CamberwrightError } from '../error.ts';
import { seededRandom } from '../math/random.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { RunContext } from '../model/context.ts';
import type { Pose } from '../model/pose.ts';
import type { StockCells, StockZone } from '../model/stock-cells.ts';
import { loadSolver } from './linear-programme.ts';
import type { RotationOrder } from './pose-readings.ts';
import {
  AXES,
  type Axis,
  type AxisBounds,
  type AxisFrame,
  type AxisRanges,
  axisBounds,
  insideBounds,
  poseOfValues,
  valuesOfPose,
} from './share-axes.ts';
import { type Descent, type DescentAids, type StockPoint, shareDescent, stepFrom } from './share-descent.ts';
import { isBetter, meritOf, type ZoneSpare } from './share-merit.ts';
import { cellDistance, stockRows } from './share-rows.ts';

/** What a placement shares the stock for, and how it may move. */
export interface ShareOptions {
  zones: readonly StockZone[];
  /** Pivot in the nominal frame (mm). */
  pivot: Vec3;
  rotationOrder: RotationOrder;
  /** Axes held at their value at the start. */
  locks?: readonly Axis[];
  /** Allowed values of the axes, mm and degrees about the pivot, relative to `from`. */
  ranges?: AxisRanges;
  /** Placement the values count from; absent: the start. */
  from?: Pose;
  /** Times the standard uncertainty of a cell's stock that is wanted besides the zone's least; absent: 0. */
  factor?: number;
  /** Descents, the first from the start, the others from places about it; absent: 4. */
  starts?: number;
}

/** A cell that holds the placement; weights sum to 1. */
export interface HoldingCell {
  cell: number;
  zone: number;
  weight: number;
  limit: 'least' | 'most';
  /** Stock of the cell (mm). */
  stock: number;
}

/** The placement that shares the stock, with what holds it. */
export interface SharedStock {
  pose: Pose;
  /** Values of the six axes relative to `from`: mm, degrees. */
  values: Float64Array;
  /** Least of (stock − wanted) / weight (mm); negative: short by that much, in no placement less. */
  spare: number;
  /** Most stock beyond what is allowed (mm), 0 where it can be kept. */
  excess: number;
  heldBy: HoldingCell[];
  /** Least spare of every measured zone (mm), the tightest first. */
  levels: ZoneSpare[];
  iterations: number;
  /** Times the stock was evaluated. */
  evaluations: number;
  /** Descents made, and how many of them ended at this spare, to 5 µm. */
  starts: number;
  agreeing: number;
  converged: boolean;
  /** Stock in this placement. */
  cells: StockCells;
}

/** Width of the places about the start that further descents start from: mm and degrees, either way. */
const START_WIDTH = [0.3, 0.3, 0.3, 0.5, 0.5, 0.5];
/** Differences of spare stock that do not matter (mm) and most steps: of a descent, and of the last steps from the best. */
const ROUGH = { tie: 1e-4, steps: 40 };
const FINE = { tie: 1e-6, steps: 4 };
/** Trust region in which the holding cells are told at the end (mm). */
const HOLD_TRUST = 0.02;
/** Descents nearer to each other than this have come to the same place (mm). */
const SAME_PLACE = 0.005;

/**
 * Returns the placement of a blank that shares its stock evenly: the least spare over all zones is greatest, then that of
 * the zones that do not hold it, and so on (Gou, Chu & Li, Comput. Aided Des. 31, 1999, as successive linear programmes),
 * at last the spare is even in the least squares sense. A blank that cannot clean up is answered by a negative spare.
 * @param field stock by cells in a placement (measured → nominal), the blank's points related anew
 * @throws `stock/not-measured` where no cell of a zone is measured, `plan/value` for ranges or shares of no sense,
 *   `fault/solver`, `cancelled`
 */
export async function shareStock(
  field: (pose: Pose) => Promise<StockCells>,
  start: Pose,
  options: ShareOptions,
  context: RunContext = {},
): Promise<SharedStock> {
  const { zones, pivot, rotationOrder, locks = [], ranges = {}, from = start, factor = 0 } = options;
  const frame: AxisFrame = { from, pivot, rotationOrder };
  const given = valuesOfPose(start, frame);
  const bounds = checkedBounds(axisBounds(given, locks, ranges));
  let evaluations = 0;
  let length = 0;
  const evaluate = async (values: Float64Array): Promise<StockPoint> => {
    const pose = poseOfValues(values, frame);
    const cells = await field(pose);
    evaluations++;
    if (length === 0) length = cellDistance(cells, pivot);
    const rows = stockRows(cells, zones, values, frame, length, factor);
    if (rows.count === 0) throw notMeasured();
    return { values, pose, cells, rows, merit: meritOf(rows) };
  };
  let best: Descent | null = null;
  const isKnown = (point: StockPoint): boolean => best !== null && isSamePlace(point, best.point);
  const aids: DescentAids = { solve: await loadSolver(), bounds, evaluate, isKnown, ...ROUGH };
  const found: Descent[] = [];
  for (const values of startValues(given, bounds, options.starts ?? 4)) {
    const descent = await shareDescent(await evaluate(values), aids, context);
    found.push(descent);
    if (best === null || isBetter(descent.point.merit, best.point.merit, ROUGH.tie)) best = descent;
  }
  const { point: nearly, converged } = best as Descent;
  const last = await shareDescent(nearly, { ...aids, ...FINE, isKnown: () => false }, context);
  const { point } = last;
  const spare = point.merit.levels[0].spare;
  return {
    pose: point.pose,
    values: point.values,
    spare,
    excess: point.merit.excess,
    heldBy: holdingCells(point, aids),
    levels: point.merit.levels,
    iterations: found.reduce((sum, { iterations }) => sum + iterations, last.iterations),
    evaluations,
    starts: found.length,
    agreeing: found.filter((each) => Math.abs(each.point.merit.levels[0].spare - spare) < SAME_PLACE).length,
    converged,
    cells: point.cells,
  };
}

/** Values the descents start from: those given, then seeded ones about them, all within the bounds. */
function startValues(given: Float64Array, bounds: AxisBounds, count: number): Float64Array[] {
  const uniform = seededRandom(1);
  return Array.from({ length: count }, (_, k) => {
    const values = given.map((value, a) => (k === 0 ? value : value + START_WIDTH[a] * (2 * uniform() - 1)));
    return insideBounds(values, bounds);
  });
}

function isSamePlace(a: StockPoint, b: StockPoint): boolean {
  const near = a.values.every((value, k) => Math.abs(value - b.values[k]) < SAME_PLACE * a.rows.unit[k]);
  return (
    near && !isBetter(a.merit, b.merit, ROUGH.tie) && a.merit.levels[0].spare > b.merit.levels[0].spare - SAME_PLACE
  );
}

/** The cells that hold the least spare at a placement, the weightiest first. */
function holdingCells(point: StockPoint, aids: DescentAids): HoldingCell[] {
  const { rows } = point;
  const { holds } = stepFrom(rows, point.values, aids, HOLD_TRUST);
  const total = [...holds.values()].reduce((sum, value) => sum + value, 0);
  return [...holds]
    .map(([cut, dual]): HoldingCell => {
      const row = cut >> 1;
      const limit = (cut & 1) === 1 ? 'most' : 'least';
      return { cell: rows.cell[row], zone: rows.zone[row], weight: dual / total, limit, stock: rows.stock[row] };
    })
    .filter(({ weight }) => weight > 1e-6)
    .sort((a, b) => b.weight - a.weight || a.cell - b.cell);
}

/** @throws `plan/value` */
function checkedBounds(bounds: AxisBounds): AxisBounds {
  const bad = AXES.findIndex((_, k) => !(bounds.low[k] <= bounds.high[k]));
  if (bad < 0) return bounds;
  throw new CamberwrightError('plan/value', `The range of ${AXES[bad]} ends below its start.`, {
    remedy: 'Give the lower value of a range first.',
  });
}

function notMeasured(): CamberwrightError {
  return new CamberwrightError('stock/not-measured', 'No cell of any zone has stock measured.', {
    remedy: 'Check that the scan covers the aerofoil, and the zones of the plan.',
  });
}
