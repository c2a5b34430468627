import type { BlankCells } from './blank-cells.ts';
import type { Warning } from './error.ts';
import { edgeReach } from './judge/zones.ts';
import { MEASURE_DEFAULTS } from './measure/measure-options.ts';
import { measuresOf } from './measure/measure-section.ts';
import { sectionContext } from './measure/section-context.ts';
import type { PlacementMethod } from './model/place.ts';
import type { Pose } from './model/pose.ts';
import type { Shape } from './model/shape.ts';
import type { StockZoneResult } from './model/stock-results.ts';
import type { DatumFit } from './place/datum-fit.ts';
import type { Placement } from './place/place-part.ts';
import type { SharedStock } from './place/share-stock.ts';
import type { Prepared } from './prepare.ts';
import type { Axis } from './settings.ts';
import type { FeetFinder } from './spatial/find-feet.ts';
import type { StockInput } from './stock/stock-scene.ts';
import { type StockZones, stockZones } from './stock/stock-zones.ts';

/** A blank kept in memory, so that other placements can be tried without its points being read again. */
export interface KeptBlank {
  prepared: Prepared;
  /** Measured points as a proper part, x0, y0, z0, … (mm). */
  points: Float64Array;
  /** The measured surface, for datum targets; null when there is more than one. */
  surface: Shape | null;
  /** Points farther from the finished surface than this are not the blank's aerofoil (mm). */
  gate: number;
  finder: FeetFinder;
  /** The placement by best fit, or as given. */
  fit: Placement;
  zones: StockZones;
  warnings: Warning[];
  /** The placement by the plan's datum targets; null where it names none or they cannot be met. */
  datum: DatumFit | null;
  /** The last placement that shares the stock, and what it was asked for. */
  shared: { key: string; result: SharedStock; heldAxes: Axis[] } | null;
  /** Stock by pose, for as long as the pose is kept. */
  seen: WeakMap<Pose, BlankCells>;
  /** Stock in the placement last judged, and what may stay as forged there. */
  judged: { input: StockInput; zones: StockZoneResult[] } | null;
}

/** Motions a placement may make: values about the pivot (mm, degrees) from `referencePose`. */
export type BlankRanges = Partial<Record<Axis, readonly [number, number]>>;

/** A placement asked for a kept blank. */
export interface BlankPlacement {
  method: PlacementMethod;
  /** Row-major 4 × 4, measured → nominal; only with `given`. */
  matrix?: readonly number[];
  locks?: readonly Axis[];
  ranges?: BlankRanges;
  /** Stock wanted in every zone instead of the plan's (mm); `most` null: no limit. */
  wanted?: { least: number; most: number | null };
}

/** The placement locks and ranges count from: that of the nest where the plan names its targets, else the best fit. */
export function referencePose({ datum, fit }: Pick<KeptBlank, 'datum' | 'fit'>): Pose {
  return datum?.pose ?? fit.pose;
}

/** Returns the zones a blank is held against; without a set-back of the plan, the edge zones follow the middle section. */
export function blankZones({ plan, blade }: Prepared): StockZones {
  const middle = blade.sections[Math.floor(blade.sections.length / 2)];
  const nominal = measuresOf(sectionContext({ outline: middle.outline, edges: middle.edges }, MEASURE_DEFAULTS));
  const sections = [{ id: middle.id, height: middle.height, coverage: null, nominal }];
  return stockZones(plan, blade.surface, edgeReach(plan, sections));
}
