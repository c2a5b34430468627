import { limitsFromZones, limitsOfMap, sidesOfRow, zoneLimits } from '../judge/map-places.ts';
import type { Results } from '../model/results.ts';
import { csvText } from './csv.ts';

const NO_REACH = { leading: 0, trailing: 0 };

/**
 * The map of deviation or stock as CSV, a line a cell: height and position along the outline (mm, suction side negative), part of the
 * blade, amount and U (mm, empty where not measured), limits. Only the head when there is no map.
 */
export function mapCsv(results: Results, separator: ',' | ';' = ','): string {
  const amount = results.stock ? 'Stock mm' : 'Deviation mm';
  const head = ['Height mm', 'Along mm', 'Side', amount, 'U (k=2) mm', 'Lower limit mm', 'Upper limit mm'];
  const { map } = results;
  if (!map) return csvText([head], separator);
  const zones = zoneLimits(results);
  const limits = limitsOfMap(map, limitsFromZones(zones));
  const reach = zones.find((zone) => zone.reach)?.reach ?? NO_REACH;
  const lines = map.heights.flatMap((height, i) => {
    const sides = sidesOfRow(map.along[i], reach);
    return map.along[i].map((along, j) => {
      const u = map.u[i][j];
      return [
        height,
        along,
        sides[j],
        map.deviation[i][j],
        u === null ? null : 2 * u,
        limits[i][j].lower,
        limits[i][j].upper,
      ];
    });
  });
  return csvText([head, ...lines], separator);
}
