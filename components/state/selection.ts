import { cellBorders, sideOf } from '../../src/judge/map-places.ts';
import type { Characteristic, Place, Results, SectionResult, Side } from '../../src/model/results.ts';
import type { Stock } from '../../src/model/stock-results.ts';

/** The one selection all views share: a section, a place on it, a characteristic. */
export interface Selection {
  sectionId?: string;
  /** mm */
  height?: number;
  /** mm from the leading edge along the outline, suction side negative. */
  along?: number;
  side?: Side;
  characteristicId?: string;
}

/** The section nearest to a height; null when there are none. */
export function nearestSection(sections: SectionResult[], height: number): SectionResult | null {
  let best: SectionResult | null = null;
  for (const s of sections) {
    if (best === null || Math.abs(s.height - height) < Math.abs(best.height - height)) best = s;
  }
  return best;
}

/** The section a selection stands on. */
export function chosenSection(results: Results, selection: Selection): SectionResult | null {
  const named = results.sections.find((s) => s.id === selection.sectionId);
  if (named) return named;
  return selection.height === undefined ? null : nearestSection(results.sections, selection.height);
}

/** The section a page shows: the chosen one, else the middle one; null when there are none. */
export function shownSection(results: Results, selection: Selection): SectionResult | null {
  const { sections } = results;
  return chosenSection(results, selection) ?? sections[Math.floor(sections.length / 2)] ?? null;
}

/** Selection of a place; the section follows as the nearest one. */
export function selectPlace(results: Results, height: number, along: number): Selection {
  const section = nearestSection(results.sections, height);
  return { height, along, side: sideAt(results, height, along), ...(section ? { sectionId: section.id } : {}) };
}

/** Selection of a section; the position along the outline is kept. */
export function selectSection(results: Results, before: Selection, id: string): Selection {
  const section = results.sections.find((s) => s.id === id);
  if (!section) return before;
  const along = before.along ?? 0;
  return { sectionId: id, height: section.height, along, side: sideAt(results, section.height, along) };
}

/** Selection of a characteristic: its section, and the edge it speaks of. */
export function selectCharacteristic(results: Results, before: Selection, row: Characteristic): Selection {
  const section = results.sections.find((s) => s.id === row.section);
  if (!section) {
    const place = profilePlace(results, row.id);
    const at = place ? selectPlace(results, place.height, place.along) : before;
    return { ...at, characteristicId: row.id };
  }
  const along = alongOf(results, row, section.height) ?? before.along ?? 0;
  return {
    sectionId: section.id,
    height: section.height,
    along,
    side: sideAt(results, section.height, along),
    characteristicId: row.id,
  };
}

/** Place of the larger extreme of the zone that a profile row speaks of. */
function profilePlace(results: Results, id: string): Place | null {
  const zone = results.deviation?.zones.find((z) => id === `profile:${z.zone}`);
  if (!zone) return null;
  const most = Math.abs(zone.most.value ?? 0) >= Math.abs(zone.least.value ?? 0);
  return (most ? zone.most : zone.least).place;
}

function alongOf(results: Results, row: Characteristic, height: number): number | null {
  const what = `${row.id} ${row.name}`;
  if (/leading ?-?edge/i.test(what)) return 0;
  if (/trailing ?-?edge/i.test(what)) return rowRange(results, height)?.[1] ?? null;
  return null;
}

/** Index of the map row nearest to a height; −1 without a map. */
export function mapRow(results: Results, height: number): number {
  const heights = results.map?.heights ?? [];
  let best = -1;
  for (let i = 0; i < heights.length; i++) {
    if (best < 0 || Math.abs(heights[i] - height) < Math.abs(heights[best] - height)) best = i;
  }
  return best;
}

/** Index of the entry of a rising list nearest to a value. */
export function nearestIndex(rising: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = rising.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rising[middle] <= value) low = middle;
    else high = middle;
  }
  return Math.abs(rising[high] - value) < Math.abs(rising[low] - value) ? high : low;
}

/** Position of the trailing edge on the suction and on the pressure side at a height (mm); null without a map. */
export function rowRange(results: Results, height: number): [number, number] | null {
  const row = mapRow(results, height);
  if (row < 0) return null;
  const borders = cellBorders(results.map!.along[row]);
  return [borders[0], borders[borders.length - 1]];
}

/** Side of a place by the reach of the result's zones; without zones an edge reaches a fortieth of the outline. */
export function sideAt(results: Results, height: number, along: number): Side {
  const range = rowRange(results, height);
  if (range === null) return along < 0 ? 'suction' : 'pressure';
  const zone = results.stock?.zones[0] ?? results.deviation?.zones.find((z) => z.reach !== undefined);
  const edge = (range[1] - range[0]) / 40;
  return sideOf(along, range[0], range[1], zone?.reach ?? { leading: edge, trailing: edge });
}

/** Deviation and its standard uncertainty in the map cell nearest to a place. */
export function readingAt(
  results: Results,
  height: number,
  along: number,
): { deviation: number | null; u: number | null } {
  const row = mapRow(results, height);
  if (row < 0) return { deviation: null, u: null };
  const at = nearestIndex(results.map!.along[row], along);
  return { deviation: results.map!.deviation[row][at], u: results.map!.u[row][at] };
}

/**
 * Places in falling order of concern: those beyond their zone's limits first, by the amount, then by size.
 * One entry a zone and sign.
 */
export function worstPlaces(results: Results): Place[] {
  if (results.stock) return shortPlaces(results.stock);
  const found: { place: Place; beyond: number; size: number }[] = [];
  for (const zone of results.deviation?.zones ?? []) {
    for (const extreme of [zone.least, zone.most]) {
      if (extreme.value === null || extreme.place === null) continue;
      const over = zone.upper === null ? 0 : extreme.value - zone.upper;
      const under = zone.lower === null ? 0 : zone.lower - extreme.value;
      found.push({ place: extreme.place, beyond: Math.max(0, over, under), size: Math.abs(extreme.value) });
    }
  }
  found.sort((a, b) => b.beyond - a.beyond || b.size - a.size);
  const unique: Place[] = [];
  for (const { place } of found) {
    const close = (p: Place): boolean =>
      Math.abs(p.height - place.height) < 1e-6 && Math.abs(p.along - place.along) < 1e-6;
    if (!unique.some(close)) unique.push(place);
  }
  return unique;
}

/** Places of the areas short of stock, the deepest first; without any, where the stock is least. */
function shortPlaces({ areas, least }: Stock): Place[] {
  if (areas.length > 0) return areas.map((area) => area.place);
  return least.place ? [least.place] : [];
}

/** The next (+1) or previous (−1) worst place after the present selection, going round. */
export function stepWorst(results: Results, now: Selection, step: 1 | -1): Selection {
  const places = worstPlaces(results);
  if (places.length === 0) return now;
  const at = places.findIndex((p) => p.height === now.height && p.along === now.along);
  const to = at < 0 ? (step > 0 ? 0 : places.length - 1) : (at + step + places.length) % places.length;
  return selectPlace(results, places[to].height, places[to].along);
}
