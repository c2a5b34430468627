import type { EdgeMoves, KeptFlanks } from './adapt-base.ts';
import { setbacksOf } from './adapt-frame.ts';
import type { ENDS, End, SectionPlan } from './adapt-section.ts';
import type { AdaptSettings } from './adapt-settings.ts';
import { smoothSpan } from './adapt-span.ts';
import { middleChordOf, stockUncertainty } from './stock-extremes.ts';
import type { StockInput } from './stock-scene.ts';
import { stockWanted } from './stock-zones.ts';

/** Set-back up to which a cell tells the stock of a nose (mm). */
const AT_NOSE = 0.15;

/**
 * Returns how the edges of every section move as wholes: across onto the middle of the kept flanks, and, where the nose
 * line comes from the actual opposite edge, both together along the chord by the least that leaves either nose the stock
 * wanted; all smoothed over the span.
 */
export function edgeMoves(
  plans: readonly SectionPlan[],
  kept: KeptFlanks,
  settings: AdaptSettings,
  input: StockInput,
): EdgeMoves[] {
  const heights = plans.map(({ frame }) => frame.height);
  const isKept = kept.suction !== null || kept.pressure !== null;
  const across = (end: End) =>
    smoothSpan(
      heights,
      plans.map(({ middle }) => (isKept ? (middle[end] ?? 0) : 0)),
    );
  const by = { leading: across('leading'), trailing: across('trailing') };
  const shifts =
    settings.noseFrom === 'opposite-edge'
      ? smoothSpan(heights, chordShifts(plans, input))
      : new Float64Array(plans.length);
  return plans.map((_, k) => ({
    leading: { along: shifts[k], across: by.leading[k] },
    trailing: { along: shifts[k], across: by.trailing[k] },
  }));
}

/** Shift of both noses along the chord (mm, towards the trailing edge) that leaves each the stock wanted; least of size. */
function chordShifts(plans: readonly SectionPlan[], input: StockInput): number[] {
  const spare = { leading: noseSpare(plans, input, 'leading'), trailing: noseSpare(plans, input, 'trailing') };
  return plans.map((_, k) => {
    const [least, most] = [-spare.leading[k], spare.trailing[k]];
    if (least > most) return 0.5 * (least + most);
    return Math.min(Math.max(0, least), most);
  });
}

/** Least stock to spare over the cells of a nose about each section (mm); 0 where none is measured. */
function noseSpare(plans: readonly SectionPlan[], input: StockInput, end: (typeof ENDS)[number]): number[] {
  const { cells, zones, plan, surface } = input;
  const { factor } = stockWanted(plan);
  const stated = stockUncertainty(0, middleChordOf(surface), plan) ?? 0;
  return plans.map(({ frame }, k) => {
    const beside = Math.max(
      frame.height - (plans[k - 1]?.frame.height ?? frame.height),
      (plans[k + 1]?.frame.height ?? frame.height) - frame.height,
    );
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < cells.count; i++) {
      if (cells.zone[i] < 0 || !Number.isFinite(cells.stock[i])) continue;
      if (Math.abs(cells.height[i] - frame.height) > beside / 2) continue;
      if (setbacksOf(frame, cells.point[3 * i], cells.point[3 * i + 1])[end] > AT_NOSE) continue;
      const guard = factor * Math.hypot(cells.uStock[i], stated);
      least = Math.min(least, cells.stock[i] - zones.zones[cells.zone[i]].least - guard);
    }
    return Number.isFinite(least) ? least : 0;
  });
}
