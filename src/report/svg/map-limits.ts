import { type LimitsAt, limitsFromZones, limitsOfMap, type PlaceLimits, zoneLimits } from '../../judge/map-places.ts';
import type { Results } from '../../model/results.ts';

/** Limits the colours are tied to, and whether the plan gave them. */
export interface MapLimits {
  at: LimitsAt;
  /** True when the plan gives no limits and a display setting stands in. */
  assumed: boolean;
  /** Distinct pairs in force. */
  pairs: PlaceLimits[];
}

/** Display limits (mm) where the plan gives none; they colour the map and decide nothing. */
export const ASSUMED_LIMIT = 0.05;

/** Limits for drawing: those of the result's zones, else ±`assumed` for display only. */
export function mapLimits(results: Results, assumed = ASSUMED_LIMIT): MapLimits {
  const zones = zoneLimits(results).filter((zone) => zone.lower !== null || zone.upper !== null);
  if (zones.length === 0) {
    const pair = { lower: -assumed, upper: assumed };
    return { at: () => pair, assumed: true, pairs: [pair] };
  }
  const pairs = zones.map(({ lower, upper }) => ({ lower, upper }));
  return { at: limitsFromZones(zones), assumed: false, pairs };
}

/** Limits of every cell of the result's map; empty without a map. */
export function mapCellLimits(results: Results, limits: MapLimits): PlaceLimits[][] {
  return results.map ? limitsOfMap(results.map, limits.at) : [];
}
