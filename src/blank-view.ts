import { blankCells } from './blank-cells.ts';
import { type PlacedBy, placementRecord } from './blank-placement.ts';
import { type Drawing, drawingOf } from './drawing.ts';
import { type Warning, warning } from './error.ts';
import { type KeptBlank, referencePose } from './kept-blank.ts';
import type { RunContext } from './model/context.ts';
import type { Place, Results } from './model/results.ts';
import type { StockCells, StockZone } from './model/stock-cells.ts';
import type { DatumResult } from './model/stock-results.ts';
import { type Placement, placePart } from './place/place-part.ts';
import { readPose } from './place/pose-readings.ts';
import { spareCurves } from './place/spare-curves.ts';
import { toAlignment } from './place/to-alignment.ts';
import { workOffsets } from './place/work-offset.ts';
import { evaluateSurface, PLACE_SIZE } from './spatial/surface-evaluate.ts';
import { levelOutline } from './stock/level-outlines.ts';
import { cellPlace } from './stock/place-record.ts';
import { stockAnswer } from './stock/stock-answer.ts';
import { stockRecord } from './stock/stock-record.ts';
import { stockWanted } from './stock/stock-zones.ts';
import type { Stopwatch } from './stopwatch.ts';

/** A blank in one placement. */
export interface BlankView {
  results: Results;
  drawing: Drawing;
  /** Stock by cells with the zones they belong to, for trial placements. */
  cells: StockCells;
  zones: readonly StockZone[];
  /** What locks and ranges count from: translation at the pivot (mm) and rotations (degrees). */
  origin: number[];
}

/** The placement a blank is shown in. */
export interface ChosenPlacement {
  placed: PlacedBy;
  /** The placement that shares the stock, where another one is in use. */
  better: PlacedBy | null;
  datum?: DatumResult;
}

/** A better placement is offered when it leaves this much more to spare (mm). */
const BETTER = 0.001;

/** Returns a kept blank in one placement, judged on all its points against the zones' wants. */
export async function viewBlank(
  kept: KeptBlank,
  zones: readonly StockZone[],
  chosen: ChosenPlacement,
  context: RunContext,
  clock: Stopwatch,
): Promise<BlankView> {
  const { head, plan, settings, target, tasks } = kept.prepared;
  const { surface } = target;
  const { placed, better } = chosen;
  const here = await blankCells(kept, placed.pose, context);
  const alignment = await alignmentAt(kept, placed, context);
  clock.lap('relate');
  const { pivot, rotationOrder } = kept.fit;
  const placement = placementOf(kept, placed, here.cells, zones, true);
  const there = better ? await blankCells(kept, better.pose, context) : null;
  const offered = better && there ? placementOf(kept, better, there.cells, zones, false) : null;
  const gain = (offered?.spare.value ?? Number.NEGATIVE_INFINITY) - (placement.spare.value ?? 0);
  const input = { surface, map: here.map, cells: here.cells, zones: { ...kept.zones, zones: [...zones] }, plan };
  const stock = {
    ...stockRecord(input),
    placement,
    better: gain > BETTER ? offered : null,
    ...(chosen.datum ? { datum: chosen.datum } : {}),
    offsets: workOffsets(placed.pose, {
      pivot: plan?.offset?.pivot ?? pivot,
      order: plan?.offset?.order ?? rotationOrder,
      checkPoint: plan?.offset?.checkPoint ?? tipOfLeadingEdge(kept),
    }),
  };
  kept.judged = { input, zones: stock.zones };
  clock.lap('stock');
  const results: Results = {
    ...head,
    answers: { stock: stockAnswer(stock) },
    settings: { ...head.settings, locks: settings.locks },
    alignment: { ...alignment, method: placed.method, leftOut: here.leftOut },
    map: here.map.map,
    sections: tasks.filter((task) => !task.on).map(({ id, height }) => levelOutline(surface, here.map, id, height)),
    stock,
    warnings: [...head.warnings, ...kept.warnings, ...nothingWanted(zones)],
    timing: clock.seconds(),
  };
  const { translation, rotationDeg } = readPose(referencePose(kept), pivot, rotationOrder);
  const origin = [...translation, ...rotationDeg];
  return { results, drawing: drawingOf(target, here.map), cells: here.cells, zones, origin };
}

/** Residual and plays of a placement that was not fitted by least squares; those of the best fit are known. */
async function alignmentAt(kept: KeptBlank, placed: PlacedBy, context: RunContext) {
  if (placed.pose === kept.fit.pose) return toAlignment(kept.fit);
  const { target, settings } = kept.prepared;
  const { pivot, rotationOrder } = kept.fit;
  const quiet: RunContext = context.signal ? { signal: context.signal } : {};
  const judged: Placement = await placePart(
    target,
    kept.points,
    {
      locks: settings.locks,
      pivot,
      rotationOrder,
      gate: kept.gate,
      oversize: 'none',
      given: { pose: placed.pose, handedness: 'proper' },
    },
    quiet,
    (moved, feet, farthest) => kept.finder(target, moved, null, feet, farthest, quiet),
  );
  return toAlignment(judged);
}

function placementOf(
  kept: KeptBlank,
  placed: PlacedBy,
  cells: StockCells,
  zones: readonly StockZone[],
  withCurves: boolean,
) {
  const { pivot, rotationOrder } = kept.fit;
  const { surface } = kept.prepared.target;
  const { plan } = kept.prepared;
  const { factor } = stockWanted(plan);
  const curves = withCurves ? spareCurves(cells, zones, placed.pose, { pivot, rotationOrder, factor }) : [];
  const placeOf = (of: StockCells, cell: number): Place => cellPlace(surface, kept.zones.reaches[0], of, cell);
  return placementRecord(placed, cells, zones, curves, placeOf, factor);
}

/** A blank of which nothing is wanted passes with any metal at all. */
function nothingWanted(zones: readonly StockZone[]): Warning[] {
  if (zones.some(({ least }) => least > 0)) return [];
  return [
    warning(
      'stock/nothing-wanted',
      'No stock wanted is stated; the blank is held against 0 mm.',
      null,
      'Give affected layer, least chip and locating scatter as "stock" in the plan, or the least stock wanted.',
    ),
  ];
}

/** The check point where the plan names none: the leading edge at the tip. */
function tipOfLeadingEdge({ prepared }: KeptBlank): [number, number, number] {
  const { surface } = prepared.target;
  const place = new Float64Array(PLACE_SIZE);
  evaluateSurface(surface, 0, surface.heights[surface.heights.length - 1], place);
  return [place[0], place[1], place[2]];
}
