import type { DeviationMap, Results, Side, ZoneDeviation } from '../model/results.ts';

/** How far the edge zones reach from the leading and the trailing edge, along the outline (mm). */
export interface EdgeReach {
  leading: number;
  trailing: number;
}

export type ZoneReach = NonNullable<ZoneDeviation['reach']>;

/**
 * Borders between cells of one row: one more number than centres. Inner borders lie half way between centres, the outer
 * ones as far outside as the first inner one is inside.
 * @param centres rising positions (mm)
 */
export function cellBorders(centres: readonly number[]): number[] {
  const n = centres.length;
  if (n === 0) return [];
  if (n === 1) return [centres[0] - 0.5, centres[0] + 0.5];
  const borders = new Array<number>(n + 1);
  for (let i = 1; i < n; i++) borders[i] = (centres[i - 1] + centres[i]) / 2;
  borders[0] = centres[0] - (borders[1] - centres[0]);
  borders[n] = centres[n - 1] + (centres[n - 1] - borders[n - 1]);
  return borders;
}

/**
 * Which part of the blade a position along the outline belongs to.
 * @param along mm from the leading edge, suction side negative
 * @param suctionEnd position of the trailing edge on the suction side (mm, negative)
 * @param pressureEnd position of the trailing edge on the pressure side (mm, positive)
 */
export function sideOf(along: number, suctionEnd: number, pressureEnd: number, reach: EdgeReach): Side {
  if (Math.abs(along) <= reach.leading) return 'leading-edge';
  if (along <= suctionEnd + reach.trailing || along >= pressureEnd - reach.trailing) return 'trailing-edge';
  return along < 0 ? 'suction' : 'pressure';
}

/** The side of every cell of one row of a map. */
export function sidesOfRow(along: readonly number[], reach: EdgeReach): Side[] {
  const borders = cellBorders(along);
  return along.map((at) => sideOf(at, borders[0], borders[borders.length - 1], reach));
}

/** True when a zone holds a place. */
export function zoneHolds(reach: ZoneReach, side: Side, height: number): boolean {
  if (reach.from !== null && height < reach.from) return false;
  if (reach.to !== null && height > reach.to) return false;
  return reach.side === 'all' || reach.side === side;
}

export interface PlaceLimits {
  lower: number | null;
  upper: number | null;
}

/** Limits at a place of the surface: those of the first listed zone that holds it. */
export type LimitsAt = (height: number, along: number, suctionEnd: number, pressureEnd: number) => PlaceLimits;

const NO_LIMITS: PlaceLimits = { lower: null, upper: null };

/** The zones the map of a result is held against: stock wanted of a blank, else the profile limits. */
export function zoneLimits(
  results: Pick<Results, 'deviation' | 'stock'>,
): Pick<ZoneDeviation, 'reach' | 'lower' | 'upper'>[] {
  if (!results.stock) return results.deviation?.zones ?? [];
  return results.stock.zones.map(({ reach, wanted }) => ({ reach, lower: wanted.least, upper: wanted.most }));
}

/** Finds the limits of places from the zones of a result. */
export function limitsFromZones(zones: readonly Pick<ZoneDeviation, 'reach' | 'lower' | 'upper'>[]): LimitsAt {
  return (height, along, suctionEnd, pressureEnd) => {
    for (const zone of zones) {
      if (!zone.reach) continue;
      const side = sideOf(along, suctionEnd, pressureEnd, zone.reach);
      if (zoneHolds(zone.reach, side, height)) return { lower: zone.lower, upper: zone.upper };
    }
    return NO_LIMITS;
  };
}

/** Limits of every cell of a map, row by row. */
export function limitsOfMap(map: DeviationMap, limitsAt: LimitsAt): PlaceLimits[][] {
  return map.along.map((row, i) => {
    const borders = cellBorders(row);
    return row.map((at) => limitsAt(map.heights[i], at, borders[0], borders[borders.length - 1]));
  });
}
