import { nominalOutline } from '../fit/nominal-outline.ts';
import { unseenReason } from '../judge/zones.ts';
import { farChord } from '../measure/chord-far.ts';
import { contourOf } from '../measure/contour.ts';
import type { Adapt, AdaptCheck } from '../model/adapt-results.ts';
import { measured } from '../model/value.ts';
import { levelSection } from '../section/surface-section.ts';
import { type AdaptedBlade, type AdaptInput, refusedBlade } from './adapt-blade.ts';
import { verdictOf } from './adapt-checks.ts';
import { departsFrom } from './adapt-departs.ts';
import { type AdaptedOutline, adaptedBlade, bladeTable, departures } from './adapt-surface.ts';
import { lengthText, placeText } from './length-text.ts';
import { OFFSET_FIELD_DEFAULTS, type OffsetField, type OffsetFieldOptions, offsetField } from './offset-field.ts';
import { type FieldSpline, fieldAt } from './offset-field-spline.ts';
import { spareStock, statedUncertainty } from './stock-extremes.ts';
import { edgeReachOf, profileLimits, stockWanted } from './stock-zones.ts';

/**
 * Returns the finished blade moved as little as it takes, by a smooth offset within the profile limits, for the blank to
 * clean up everywhere; or where that cannot be done and by how much. See `offsetField`.
 */
export function adaptWhole(input: AdaptInput, options: OffsetFieldOptions = OFFSET_FIELD_DEFAULTS): AdaptedBlade {
  const { surface, cells, zones, plan } = input;
  const limits = profileLimits(plan, zones.reaches);
  const stated = statedUncertainty(surface, plan);
  const { factor } = stockWanted(plan);
  const found = offsetField({ surface, cells, zones: zones.zones, limits, factor, stated }, options);
  const flanks = (['suction', 'pressure'] as const).map((side) => ({
    side,
    kept: false,
    reason: 'The whole blade is cut.',
  }));
  if (!found.field) return refused(input, found, flanks);
  const outlines = movedSections(input, found.field);
  const blade = adaptedBlade(outlines);
  const departs = departures(surface, outlines);
  const checks = [stockHeld(input, found.field, factor, stated), seenEnough(input)];
  const verdict = verdictOf(checks);
  const isRefused = verdict === 'fail' || verdict === 'not-measured';
  const refusedReason = isRefused
    ? { refusedReason: 'Too little of the blank is measured to answer for its stock.' }
    : {};
  return {
    results: {
      verdict,
      method: 'offset-field',
      flanks,
      sections: outlines.map(({ id, height, outline }, k) => ({
        id,
        height,
        chord: measured(farChord(contourOf(outline), ...noseOf(input, k)).length, null, 'mm', 'CH-FAR'),
        edges: [],
        verdict,
      })),
      checks,
      departs: departsFrom(surface, departs, edgeReachOf(zones.reaches)),
      ...refusedReason,
    },
    blade: isRefused ? null : blade,
    table: isRefused ? null : bladeTable(blade),
  };
}

function movedSections({ blade, surface }: AdaptInput, field: FieldSpline): AdaptedOutline[] {
  return blade.sections.map(({ id, height }) => {
    const on = levelSection(surface, height);
    const { outline } = nominalOutline({
      ...on,
      carry: (u, deviation, out) => on.carry(u, deviation + fieldAt(field, u, height), out),
    });
    return { id, height, outline, nominal: nominalOutline(on) };
  });
}

const point = new Float64Array(2);

function noseOf({ blade, surface }: AdaptInput, k: number): [number, number] {
  levelSection(surface, blade.sections[k].height).carry(0, 0, point);
  return [point[0], point[1]];
}

const STOCK_CHECK = { id: 'stock', name: 'Stock to spare everywhere', limit: 0, unit: 'mm' } as const;

function stockHeld({ cells, zones }: AdaptInput, field: FieldSpline, factor: number, stated: number): AdaptCheck {
  let worst = { spare: Number.POSITIVE_INFINITY, cell: -1 };
  for (let k = 0; k < cells.count; k++) {
    if (cells.zone[k] < 0 || !Number.isFinite(cells.stock[k])) continue;
    const own = cells.stock[k] - fieldAt(field, cells.u[k], cells.height[k]);
    const spare = spareStock(own, cells, k, zones.zones, factor, stated);
    if (spare < worst.spare) worst = { spare, cell: k };
  }
  if (worst.cell < 0) return { ...STOCK_CHECK, value: null, verdict: 'not-measured', where: null };
  const { tolerance } = OFFSET_FIELD_DEFAULTS;
  return {
    ...STOCK_CHECK,
    value: worst.spare,
    verdict: worst.spare < -2 * tolerance ? 'fail' : 'pass',
    where: placeText(cells.height[worst.cell], cells.along[worst.cell]),
  };
}

/** What is not measured is never enough stock: its share is held as that of a zone. */
function seenEnough({ cells, plan }: AdaptInput): AdaptCheck {
  let [whole, seen] = [0, 0];
  for (let k = 0; k < cells.count; k++) {
    if (cells.zone[k] < 0) continue;
    whole += cells.area[k];
    if (Number.isFinite(cells.stock[k])) seen += cells.area[k];
  }
  const value = whole > 0 ? seen / whole : 0;
  const verdict = unseenReason(value, null, plan) === null ? 'pass' : 'not-measured';
  const limit = plan?.minCoverage ?? null;
  return { id: 'coverage', name: 'Surface measured', value, limit, unit: '', verdict, where: null };
}

function refused({ cells }: AdaptInput, found: OffsetField, flanks: Adapt['flanks']): AdaptedBlade {
  const where = found.cell < 0 ? null : placeText(cells.height[found.cell], cells.along[found.cell]);
  const reason = `No smooth offset inside the profile limits leaves the stock wanted: short by ${lengthText(found.short)}${where === null ? '' : ` at ${where}`}.`;
  const check: AdaptCheck = { ...STOCK_CHECK, value: -found.short, verdict: 'fail', where };
  return refusedBlade({ method: 'offset-field', flanks, sections: [], checks: [check] }, reason);
}
