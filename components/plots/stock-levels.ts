import { cellBorders, limitsFromZones, zoneLimits } from '../../src/judge/map-places.ts';
import type { Results, Verdict } from '../../src/model/results.ts';
import type { TrendSeries } from '../../src/report/svg/trend-geometry.ts';
import { nearestSection } from '../state/selection.ts';

/** An extreme of the stock at one height, with the limit of its place. */
interface LevelStock {
  value: number | null;
  u: number | null;
  limit: number | null;
  verdict: Verdict;
}

/** Least and most stock of the part of the map that lies nearest to a section. */
export interface StockLevel {
  id: string;
  height: number;
  least: LevelStock;
  most: LevelStock;
}

const NOTHING: LevelStock = { value: null, u: null, limit: null, verdict: 'not-measured' };

function levelStock(value: number, u: number | null, limit: number | null, sense: 1 | -1): LevelStock {
  const verdict = limit === null ? 'no-limit' : sense * (value - limit) < 0 ? 'fail' : 'pass';
  return { value, u, limit, verdict };
}

/** One level a section, in rising height. An extreme is that of the map cells, so no place between sections is missed. */
export function stockLevels(results: Results): StockLevel[] {
  const { map, stock } = results;
  const levels = [...results.sections]
    .sort((a, b) => a.height - b.height)
    .map(({ id, height }): StockLevel => ({ id, height, least: NOTHING, most: NOTHING }));
  if (!map || !stock) return levels;
  const limitsAt = limitsFromZones(zoneLimits(results));
  const byId = new Map(levels.map((level) => [level.id, level]));
  map.heights.forEach((height, i) => {
    const level = byId.get(nearestSection(results.sections, height)?.id ?? '');
    if (!level) return;
    const borders = cellBorders(map.along[i]);
    const [from, to] = [borders[0], borders[borders.length - 1]];
    map.deviation[i].forEach((value, j) => {
      if (value === null) return;
      const limits = (): ReturnType<typeof limitsAt> => limitsAt(height, map.along[i][j], from, to);
      if (level.least.value === null || value < level.least.value)
        level.least = levelStock(value, map.u[i][j], limits().lower, 1);
      if (level.most.value === null || value > level.most.value)
        level.most = levelStock(value, map.u[i][j], limits().upper, -1);
    });
  });
  return levels;
}

/** Least and most stock over the height, as the trend panels draw them. */
export function stockSeries(results: Results): TrendSeries[] {
  const levels = stockLevels(results);
  return (['least', 'most'] as const).map((which) => ({
    of: `stock.${which}`,
    name: which,
    unit: 'mm',
    sections: levels.map((level) => level.id),
    heights: levels.map((level) => level.height),
    value: levels.map((level) => level[which].value),
    u: levels.map((level) => level[which].u),
    nominal: levels.map(() => null),
    lower: levels.map((level) => (which === 'least' ? level.least.limit : null)),
    upper: levels.map((level) => (which === 'most' ? level.most.limit : null)),
    verdict: levels.map((level) => level[which].verdict),
  }));
}
