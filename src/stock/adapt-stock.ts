import { decide } from '../judge/decide.ts';
import { ruleOf, unseenReason } from '../judge/zones.ts';
import type { AdaptCheck } from '../model/adapt-results.ts';
import type { StockCells } from '../model/stock-cells.ts';
import { alongAt, evaluateSurface, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import { edgeShares, type KeptFlanks, keptUncertainty } from './adapt-base.ts';
import { type SectionFrame, setbacksOf } from './adapt-frame.ts';
import type { AdaptSettings } from './adapt-settings.ts';
import { type SurfaceTable, tableAt } from './adapt-surface.ts';
import { placeText } from './length-text.ts';
import { spareStock, statedUncertainty } from './stock-extremes.ts';
import type { StockInput } from './stock-scene.ts';
import { profileLimits, stockWanted } from './stock-zones.ts';

/** Share of a place from which it counts as cut, and from which the fade there counts as whole. */
const FADED = 0.02;
const WHOLE = 0.999;
/** Standard uncertainties within which metal is not told to be missing in a fade. */
const FADE_GUARD = 3;

/** What the checks over the surface need of an adapted blade. */
export interface AdaptedOver extends StockInput {
  frames: readonly SectionFrame[];
  kept: KeptFlanks;
  settings: AdaptSettings;
  /** How far it lies outside the nominal. */
  departs: SurfaceTable;
}

/** Share of a place that is cut: 1 on an edge and on a flank cut to nominal, falling to 0 where a fade ends. */
function cutShares(over: AdaptedOver): { share: SurfaceTable; leading: SurfaceTable } {
  const { frames, kept, settings, departs } = over;
  const share = { ...departs, value: new Float64Array(departs.value.length) };
  const leading = { ...departs, value: new Float64Array(departs.value.length) };
  const place = new Float64Array(PLACE_SIZE);
  frames.forEach((frame, r) => {
    departs.columns.forEach((u, c) => {
      evaluateSurface(over.surface, u, frame.height, place);
      const edges = edgeShares(frame, settings, place[0], place[1]);
      const isCut = (u < 0 ? kept.suction : kept.pressure) === null;
      const back = setbacksOf(frame, place[0], place[1]);
      share.value[r * departs.columns.length + c] = isCut ? 1 : edges.leading + edges.trailing;
      leading.value[r * departs.columns.length + c] = back.leading < back.trailing ? 1 : 0;
    });
  });
  return { share, leading };
}

/** Stock over the adapted blade cell by cell (mm, NaN elsewhere and where not measured). */
export interface CutStock {
  /** Less what is wanted, on the edges and on flanks cut to nominal. */
  spare: Float64Array;
  /** In the fades, where metal runs out into the kept flank: negative where it is missing. */
  fading: Float64Array;
  /** 1 in the leading half. */
  isLeading: Uint8Array;
  /** Area cut, and how much of it is measured (mm²). */
  area: number;
  seen: number;
}

/**
 * Returns the stock of a blank over its adapted blade: less what is wanted where it is cut as a whole, as it is where an
 * edge fades into a kept flank. There it may run out, because the flank that is left stands within the profile.
 */
export function cutStock(over: AdaptedOver): CutStock {
  const { cells, zones, departs, plan, surface } = over;
  const { share, leading } = cutShares(over);
  const stated = statedUncertainty(surface, plan);
  const { factor } = stockWanted(plan);
  const result: CutStock = {
    spare: new Float64Array(cells.count).fill(Number.NaN),
    fading: new Float64Array(cells.count).fill(Number.NaN),
    isLeading: new Uint8Array(cells.count),
    area: 0,
    seen: 0,
  };
  for (let k = 0; k < cells.count; k++) {
    const w = tableAt(share, cells.u[k], cells.height[k]);
    if (cells.zone[k] < 0 || !(w > FADED)) continue;
    result.area += cells.area[k];
    result.isLeading[k] = tableAt(leading, cells.u[k], cells.height[k]) > 0.5 ? 1 : 0;
    if (!Number.isFinite(cells.stock[k])) continue;
    result.seen += cells.area[k];
    const own = cells.stock[k] - tableAt(departs, cells.u[k], cells.height[k]);
    if (w < WHOLE) result.fading[k] = own + FADE_GUARD * Math.hypot(cells.uStock[k], stated);
    else result.spare[k] = spareStock(own, cells, k, zones.zones, factor, stated);
  }
  return result;
}

/** Holds the stock on the edges and on flanks cut to nominal, and names the least place. */
export function stockCheck(cells: StockCells, { spare }: CutStock): AdaptCheck {
  const base = { id: 'stock' as const, name: 'Stock to spare where it is cut', limit: 0, unit: 'mm' };
  const worst = leastOf(spare);
  if (worst < 0) return { ...base, value: null, verdict: 'not-measured', where: null };
  return {
    ...base,
    value: spare[worst],
    verdict: spare[worst] < 0 ? 'fail' : 'pass',
    where: placeText(cells.height[worst], cells.along[worst]),
  };
}

/** Holds how much metal is missing where the edges fade into kept flanks. */
export function fadeCheck(cells: StockCells, { fading }: CutStock, limit: number): AdaptCheck {
  const base = { id: 'blend' as const, name: 'Metal missing in the blend', limit, unit: 'mm' };
  const worst = leastOf(fading);
  if (worst < 0) return { ...base, value: null, verdict: 'not-applicable', where: null };
  const value = Math.max(0, -fading[worst]);
  return {
    ...base,
    value,
    verdict: value > limit ? 'fail' : 'pass',
    where: placeText(cells.height[worst], cells.along[worst]),
  };
}

function leastOf(values: Float64Array): number {
  let worst = -1;
  for (let k = 0; k < values.length; k++)
    if (Number.isFinite(values[k]) && (worst < 0 || values[k] < values[worst])) worst = k;
  return worst;
}

/** Holds the adapted blade against the profile limits of the plan. */
export function profileCheck(over: AdaptedOver): AdaptCheck {
  const { plan, departs, surface, kept, zones } = over;
  const limits = profileLimits(plan, zones.reaches);
  const rule = ruleOf(plan);
  const { columns, heights, value } = departs;
  const last = columns.length - 1;
  let worst: { margin: number; value: number; limit: number; verdict: AdaptCheck['verdict']; where: string } | null =
    null;
  for (let r = 0; r < heights.length; r++) {
    const ends = [alongAt(surface, columns[0], heights[r]), alongAt(surface, columns[last], heights[r])];
    for (let c = 0; c <= last; c++) {
      const along = alongAt(surface, columns[c], heights[r]);
      const { lower, upper } = limits(heights[r], along, ends[0], ends[1]);
      if (lower === null || upper === null) continue;
      const o = value[r * columns.length + c];
      const margin = Math.min(upper - o, o - lower);
      if (worst && margin >= worst.margin) continue;
      const { verdict } = decide(o, keptUncertainty(kept, columns[c], heights[r]), lower, upper, rule);
      const limit = upper - o < o - lower ? upper : lower;
      worst = {
        margin,
        value: o,
        limit,
        verdict,
        where: placeText(heights[r], along),
      };
    }
  }
  const base = { id: 'profile' as const, name: 'Departure within the profile limits', unit: 'mm' };
  if (!worst) return { ...base, value: null, limit: null, verdict: 'no-limit', where: null };
  return { ...base, value: worst.value, limit: worst.limit, verdict: worst.verdict, where: worst.where };
}

/** Length of flank behind an edge zone whose coverage counts (mm), and height about a section. */
const WINDOW = 8;
const BESIDE = 3;

/** Holds how much of the flanks behind the edge zones and of the metal that is cut was measured. */
export function coverageCheck(over: AdaptedOver, cut: CutStock): AdaptCheck {
  const { frames, map, plan, kept, settings, surface } = over;
  const { heights, along, area, columnBorders } = map.cells;
  const columns = columnBorders.length - 1;
  let worst = { value: cut.area > 0 ? cut.seen / cut.area : 1, where: 'where it is cut' };
  for (const { id, height } of frames)
    for (const side of ['suction', 'pressure'] as const) {
      if (!kept[side]) continue;
      const end = Math.abs(alongAt(surface, side === 'suction' ? surface.columns[0] : surface.columns.at(-1)!, height));
      let [whole, seen] = [0, 0];
      for (let r = 0; r < heights.length; r++) {
        if (Math.abs(heights[r] - height) > BESIDE) continue;
        for (let c = 0; c < columns; c++) {
          const m = r * columns + c;
          const from = side === 'suction' ? -along[m] : along[m];
          const behind =
            Math.max(from - settings.leading.zone, 0) * Math.max(end - from - settings.trailing.zone, 0) > 0;
          if (!behind || Math.min(from - settings.leading.zone, end - from - settings.trailing.zone) > WINDOW) continue;
          whole += area[m];
          if (Number.isFinite(map.deviation[m])) seen += area[m];
        }
      }
      const share = whole > 0 ? seen / whole : 0;
      if (share < worst.value) worst = { value: share, where: `section ${id}, ${side} flank` };
    }
  const verdict = unseenReason(worst.value, null, plan) === null ? 'pass' : 'not-measured';
  const limit = plan?.minCoverage ?? null;
  return { id: 'coverage', name: 'Flanks and cut metal measured', unit: '', limit, verdict, ...worst };
}
