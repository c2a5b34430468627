import {
  cellBorders,
  type LimitsAt,
  limitsFromZones,
  limitsOfMap,
  type PlaceLimits,
  zoneLimits,
} from '../../src/judge/map-places.ts';
import type { Results, Verdict } from '../../src/model/results.ts';
import { type SurfaceMapGeometry, surfaceMapGeometry } from '../../src/report/svg/surface-map-geometry.ts';
import { worstVerdict } from '../controls/words.ts';
import { stockLevels } from './stock-levels.ts';

/** Limits the pictures are drawn against: the plan's, or a trial pair where the plan gives none. */
export interface ShownLimits {
  at: LimitsAt;
  /** Distinct pairs in force (mm). */
  pairs: PlaceLimits[];
  trial: boolean;
}

/**
 * @param trial half width of the trial limits (mm), used only where no zone has limits
 */
export function shownLimits(results: Results, trial: number): ShownLimits {
  const zones = zoneLimits(results).filter((z) => z.lower !== null || z.upper !== null);
  if (zones.length === 0) {
    const pair = { lower: -trial, upper: trial };
    return { at: () => pair, pairs: [pair], trial: true };
  }
  const pairs: PlaceLimits[] = [];
  for (const { lower, upper } of zones) {
    if (!pairs.some((p) => p.lower === lower && p.upper === upper)) pairs.push({ lower, upper });
  }
  return { at: limitsFromZones(zones), pairs, trial: false };
}

/** A section's mark: the most urgent verdict of its characteristics; of a blank what its stock is there. */
export function sectionMarks(results: Results): { id: string; height: number; verdict: Verdict }[] {
  if (results.stock)
    return stockLevels(results).map(({ id, height, least, most }) => ({
      id,
      height,
      verdict: worstVerdict([least.verdict, most.verdict]) ?? 'not-measured',
    }));
  return results.sections.map((section) => {
    const rows = (results.characteristics ?? []).filter((c) => c.section === section.id);
    return {
      id: section.id,
      height: section.height,
      verdict: worstVerdict(rows.map((c) => c.verdict)) ?? (section.measured ? 'no-limit' : 'not-measured'),
    };
  });
}

export const MAP_MARGIN = { left: 76, top: 24, right: 10, bottom: 44 };

/** The map and the axes it lends to its neighbours. */
export interface Hub {
  geometry: SurfaceMapGeometry;
  limits: PlaceLimits[][];
  shown: ShownLimits;
  alongDomain: [number, number];
  heightDomain: [number, number];
}

/** Lays out the map in a room (px, margins included); null without a map. */
export function hubOf(
  results: Results,
  shown: ShownLimits,
  room: { width: number; height: number },
  scale: 'true' | 'stretched',
): Hub | null {
  const { map } = results;
  if (!map || map.heights.length === 0) return null;
  const limits = limitsOfMap(map, shown.at);
  const geometry = surfaceMapGeometry(map, {
    limits,
    sections: sectionMarks(results),
    scale,
    width: Math.max(60, room.width - MAP_MARGIN.left - MAP_MARGIN.right),
    height: Math.max(60, room.height - MAP_MARGIN.top - MAP_MARGIN.bottom),
    margin: MAP_MARGIN,
  });
  const borders = map.along.map((row) => cellBorders(row));
  const up = cellBorders(map.heights);
  return {
    geometry,
    limits,
    shown,
    alongDomain: [Math.min(...borders.map((b) => b[0])), Math.max(...borders.map((b) => b[b.length - 1]))],
    heightDomain: [up[0], up[up.length - 1]],
  };
}
