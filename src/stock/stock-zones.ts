import {
  type EdgeReach,
  type LimitsAt,
  limitsFromZones,
  sideOf,
  type ZoneReach,
  zoneHolds,
} from '../judge/map-places.ts';
import { DEFAULT_ZONES } from '../judge/zones.ts';
import { type Side, sideSchema } from '../model/place.ts';
import type { Plan } from '../model/plan.ts';
import type { StockZone } from '../model/stock-cells.ts';
import type { NominalSurface } from '../model/surface.ts';
import { alongAt } from '../spatial/surface-evaluate.ts';

/** Zones a blank's stock is held against, with where each lies; the first listed one that holds a place takes it. */
export interface StockZones {
  zones: StockZone[];
  reaches: ZoneReach[];
}

/** What the least stock wanted is made of (mm), and the times its uncertainty that comes on top. */
export interface StockWanted {
  affectedLayer: number;
  minimumChip: number;
  locating: number;
  factor: number;
}

/** Times the standard uncertainty added to the least stock wanted, where the plan gives none. */
const DEFAULT_STOCK_FACTOR = 2;
/** The zone of what no zone of the plan holds: it must clean up too. */
export const ELSEWHERE = 'elsewhere';

/** Returns the parts of the least stock wanted, 0 where the plan gives none. */
export function stockWanted(plan: Plan | null): StockWanted {
  const { affectedLayer = 0, minimumChip = 0, locating = 0, factor = DEFAULT_STOCK_FACTOR } = plan?.stock ?? {};
  return { affectedLayer, minimumChip, locating, factor };
}

/**
 * Returns the zones of a plan's stock; absent: those of the profile, else the four sides of the blade. Where they leave
 * out a part of the span, one more zone holds the rest. The least wanted is that of the zone, else affected layer, least
 * chip and locating scatter together; uncertainty is added where stock is compared with it.
 * @param reach of the edge zones, from `edgeReach`
 */
export function stockZones(plan: Plan | null, surface: NominalSurface, reach: EdgeReach): StockZones {
  const wanted = stockWanted(plan);
  const general = {
    least: wanted.affectedLayer + wanted.minimumChip + wanted.locating,
    most: plan?.stock?.most ?? null,
    weight: 1,
  };
  const { leading, trailing } = reach;
  const zones: StockZone[] = [];
  const reaches: ZoneReach[] = [];
  const add = (zone: StockZone, side: ZoneReach['side'], from: number | null, to: number | null) => {
    zones.push(zone);
    reaches.push({ side, from, to, leading, trailing });
  };
  if (plan?.stock?.zones?.length)
    for (const { name, side, from, to, least, most, weight } of plan.stock.zones)
      add(
        { name, least: least ?? general.least, most: most ?? general.most, weight: weight ?? general.weight },
        side,
        from ?? null,
        to ?? null,
      );
  else if (plan?.zones?.length)
    for (const { name, side, from, to } of plan.zones) add({ name, ...general }, side, from ?? null, to ?? null);
  else for (const { name, side } of DEFAULT_ZONES) add({ name, ...general }, side, null, null);
  if (!holdsAll(reaches, surface)) add({ name: ELSEWHERE, ...general }, 'all', null, null);
  return { zones, reaches };
}

/** True when every side at every height of the span lies in a zone. */
function holdsAll(reaches: readonly ZoneReach[], surface: NominalSurface): boolean {
  const low = surface.heights[0];
  const high = surface.heights[surface.heights.length - 1];
  const ends = reaches.flatMap(({ from, to }) => [from ?? low, to ?? high]);
  const levels = [low, high, ...ends].filter((h) => h >= low && h <= high).sort((a, b) => a - b);
  const between = levels.slice(1).map((h, i) => (h + levels[i]) / 2);
  return [...levels, ...between].every((height) =>
    sideSchema.options.every((side) => zoneOfSide(reaches, side, height) >= 0),
  );
}

/** Index of the first zone that holds a side at a height; −1 for none. */
export function zoneOfSide(reaches: readonly ZoneReach[], side: Side, height: number): number {
  return reaches.findIndex((reach) => zoneHolds(reach, side, height));
}

/** Returns how far the edge zones reach, the same for every zone; nowhere without a zone. */
export function edgeReachOf(reaches: readonly ZoneReach[]): EdgeReach {
  return reaches[0] ?? { leading: 0, trailing: 0 };
}

/** Returns the limits of the finished surface by the profile zones of the plan; the edges reach as far as the stock's. */
export function profileLimits(plan: Plan | null, reaches: readonly ZoneReach[]): LimitsAt {
  const { leading, trailing } = edgeReachOf(reaches);
  const zones = (plan?.zones ?? []).map(({ side, from = null, to = null, plus, minus }) => ({
    reach: { side, from, to, leading, trailing },
    lower: -minus,
    upper: plus,
  }));
  return limitsFromZones(zones);
}

/** Returns the side of the blade at a place of the surface (length from the leading edge and height, mm). */
export function sideAt(surface: NominalSurface, reach: EdgeReach, along: number, height: number): Side {
  const { columns } = surface;
  const suctionEnd = alongAt(surface, columns[0], height);
  return sideOf(along, suctionEnd, alongAt(surface, columns[columns.length - 1], height), reach);
}
