import type { EdgeMoves, KeptFlanks } from './adapt-base.ts';
import { setbacksOf } from './adapt-frame.ts';
import type { ENDS, End, SectionPlan } from './adapt-section.ts';
import type { AdaptSettings } from './adapt-settings.ts';
import { smoothSpan } from './adapt-span.ts';
import { statedUncertainty } from './stock-extremes.ts';
import type { StockInput } from './stock-scene.ts';
import { stockWanted } from './stock-zones.ts';

/** Least cosine between a cell's normal and the chord with which a shift along the chord helps it. */
const LEAN = 0.3;
/** Room left over the stock wanted when noses are shifted (mm). */
const MARGIN = 0.002;

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
    settings.noseFrom === 'opposite-edge' ? chordShifts(plans, settings, input) : new Float64Array(plans.length);
  return plans.map((_, k) => ({
    leading: { along: shifts[k], across: by.leading[k] },
    trailing: { along: shifts[k], across: by.trailing[k] },
  }));
}

/**
 * Shift of both noses along the chord (mm, towards the trailing edge) that leaves each the stock wanted: in every section
 * the least of size, smoothed, then all moved on together until none lacks.
 */
function chordShifts(plans: readonly SectionPlan[], settings: AdaptSettings, input: StockInput): Float64Array {
  const lead = noseSpare(plans, settings, input, 'leading');
  const trail = noseSpare(plans, settings, input, 'trailing');
  const wanted = plans.map((_, k) => {
    if (-lead[k] > trail[k]) return 0.5 * (trail[k] - lead[k]);
    return Math.min(Math.max(0, -lead[k]), trail[k]);
  });
  const smooth = smoothSpan(
    plans.map(({ frame }) => frame.height),
    wanted,
  );
  const forward = smooth.reduce((most, s, k) => Math.max(most, -lead[k] - s), 0);
  const back = smooth.reduce((most, s, k) => Math.max(most, s - trail[k]), 0);
  return forward > 0 && back > 0 ? smooth : smooth.map((s) => s + forward - back);
}

/** How far a nose may move outwards along the chord, or has to move inwards (negative), for its stock to suffice (mm). */
function noseSpare(
  plans: readonly SectionPlan[],
  settings: AdaptSettings,
  input: StockInput,
  end: (typeof ENDS)[number],
): number[] {
  const { cells, zones, plan, surface } = input;
  const { factor } = stockWanted(plan);
  const stated = statedUncertainty(surface, plan);
  return plans.map(({ frame }, k) => {
    const beside = Math.max(
      frame.height - (plans[k - 1]?.frame.height ?? frame.height),
      (plans[k + 1]?.frame.height ?? frame.height) - frame.height,
    );
    const { inX, inY } = frame[end].line;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < cells.count; i++) {
      if (cells.zone[i] < 0 || !Number.isFinite(cells.stock[i])) continue;
      if (Math.abs(cells.height[i] - frame.height) > beside) continue;
      const lean = -(cells.normal[3 * i] * inX + cells.normal[3 * i + 1] * inY);
      if (lean < LEAN || setbacksOf(frame, cells.point[3 * i], cells.point[3 * i + 1])[end] > settings[end].most)
        continue;
      const guard = factor * Math.hypot(cells.uStock[i], stated) + MARGIN;
      least = Math.min(least, (cells.stock[i] - zones.zones[cells.zone[i]].least - guard) / lean);
    }
    return Number.isFinite(least) ? least : 0;
  });
}
