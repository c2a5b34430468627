import type { Plan, PlanZone } from '../model/plan.ts';
import type { Alignment, DeviationMap, PlacedValue, SectionResult, Verdict, ZoneDeviation } from '../model/results.ts';
import { measured, unmeasured } from '../model/value.ts';
import { type Budget, timesBudget, uncertaintyOf } from './budget.ts';
import { calmField } from './calm-field.ts';
import { DEFAULT_RULE, type DecisionRule, decide } from './decide.ts';
import { type Extreme, extremeOf } from './extremes.ts';
import { largestGap, type MapGap } from './largest-gap.ts';
import { type EdgeReach, sidesOfRow, type ZoneReach, zoneHolds } from './map-places.ts';
import { overallVerdict } from './overall-verdict.ts';
import { governingExtreme, profileValue } from './profile-value.ts';
import { shareText } from './share-text.ts';

/** The deviation map with what zones need beside it. Arrays run row-major parallel to the cells. */
export interface ZoneMap {
  map: DeviationMap;
  /** Area of each cell on the nominal surface (mm²). */
  area: Float64Array;
  /** Middle of each cell in the blade frame, x0, y0, z0, x1, … (mm). */
  points: Float64Array;
}

/** Share of a zone that must be measured for a pass where the plan does not say. */
export const DEFAULT_MIN_COVERAGE = 0.98;
/** Largest unmeasured stretch in one place with which a zone can pass (mm²): a missing nose is never covered. */
const LARGEST_GAP = 1;
const EDGE_CHORD_SHARE = 0.05;
const PROFILE = 'PROFILE-V';
const EDGE_RADII = 3;

/** An extreme with what its uncertainty is made of. */
type Judged = PlacedValue & { budget?: Budget | undefined };

/** The four zones of a blade whose plan names none. */
export const DEFAULT_ZONES: readonly Pick<PlanZone, 'name' | 'side'>[] = [
  { name: 'leading edge', side: 'leading-edge' },
  { name: 'trailing edge', side: 'trailing-edge' },
  { name: 'suction side', side: 'suction' },
  { name: 'pressure side', side: 'pressure' },
];

export const DATUM_REASON =
  'The plan names datums, the part was placed by best fit: what depends on position is not proven until a datum placement is given.';

/** True when a plan's datums forbid a verdict on what depends on position. */
export function awaitsDatums(plan: Plan | null, method: Alignment['method'] | null): boolean {
  return (plan?.datums?.length ?? 0) > 0 && method === 'best-fit';
}

export function ruleOf(plan: Plan | null): DecisionRule {
  const given = plan?.decision;
  return { rule: given?.rule ?? DEFAULT_RULE.rule, factor: given?.factor ?? DEFAULT_RULE.factor };
}

function middleOf(
  sections: readonly SectionResult[],
  pick: (section: SectionResult) => number | null | undefined,
): number | null {
  const found = sections
    .map(pick)
    .filter((value) => typeof value === 'number')
    .sort((a, b) => a - b);
  return found.length ? found[Math.floor(found.length / 2)] : null;
}

/** Middle one of the sections' nominal chords (mm), null without any. */
export function middleChord(sections: readonly SectionResult[]): number | null {
  return middleOf(sections, (section) => (section.nominal ?? section.measured)?.chordFar.value);
}

/**
 * How far the edge zones reach along the outline (mm): the plan's set-back, else 5 % of the middle section's nominal
 * chord and at least three nominal radii of that edge.
 */
export function edgeReach(plan: Plan | null, sections: readonly SectionResult[]): EdgeReach {
  if (plan?.edgeZone !== undefined) return { leading: plan.edgeZone, trailing: plan.edgeZone };
  const radius = (edge: 'leadingEdge' | 'trailingEdge') =>
    middleOf(sections, (section) => (section.nominal ?? section.measured)?.[edge].radiusNose.value) ?? 0;
  const least = EDGE_CHORD_SHARE * (middleChord(sections) ?? 0);
  return {
    leading: Math.max(least, EDGE_RADII * radius('leadingEdge')),
    trailing: Math.max(least, EDGE_RADII * radius('trailingEdge')),
  };
}

/**
 * Least and most deviation, zone value and verdict of every zone. Extremes are taken on the averaged cells and corrected
 * for what noise adds to an extreme. The verdict holds the least against the lower and the most against the upper limit;
 * a zone measured less than `minCoverage` cannot pass, a fail stays a fail.
 * @param reach from `edgeReach`
 * @param method how the part was placed, null when unknown
 * @param chord of the middle section (mm), which expansion acts on; null when unknown
 */
export function judgeZones(
  zoneMap: ZoneMap,
  plan: Plan | null,
  reach: EdgeReach,
  method: Alignment['method'] | null,
  chord: number | null = null,
): ZoneDeviation[] {
  const { map } = zoneMap;
  const size = { chord, perimeter: null, momentGain: null };
  const calm = calmField(map);
  const sides = map.along.map((row) => sidesOfRow(row, reach));
  const zones = plan?.zones?.length ? plan.zones : DEFAULT_ZONES;
  return zones.map((zone) => {
    const limits: PlanZone | null = 'plus' in zone ? (zone as PlanZone) : null;
    const where: ZoneReach = { side: zone.side, from: limits?.from ?? null, to: limits?.to ?? null, ...reach };
    const cells: [number, number][] = [];
    for (let i = 0; i < map.heights.length; i++)
      for (let j = 0; j < map.along[i].length; j++)
        if (zoneHolds(where, sides[i][j], map.heights[i])) cells.push([i, j]);
    const index = ([i, j]: readonly [number, number]) => i * map.along[0].length + j;
    let [whole, seen] = [0, 0];
    for (const cell of cells) {
      whole += zoneMap.area[index(cell)];
      if (map.deviation[cell[0]][cell[1]] !== null) seen += zoneMap.area[index(cell)];
    }
    const coverage = whole > 0 ? seen / whole : 0;
    const place = (extreme: Extreme | null, definition: string): Judged => {
      if (!extreme)
        return { ...unmeasured('not-measured', 'No cell of the zone is measured.', 'mm', definition), place: null };
      const { row, column, value, raw, bias } = extreme;
      const { u, budget } = uncertaintyOf(value, extreme.u, 'profile', size, plan);
      const k = 3 * index([row, column]);
      const [x, y, z] = zoneMap.points.subarray(k, k + 3);
      return {
        ...measured(value, u, 'mm', definition, { evidence: { raw, bias, cells: cells.length } }),
        ...(budget ? { budget } : {}),
        place: { height: map.heights[row], along: map.along[row][column], side: sides[row][column], point: [x, y, z] },
      };
    };
    const { budget: leastBudget, ...least } = place(extremeOf(map, calm, cells, -1), 'DEV-LEAST');
    const { budget: mostBudget, ...most } = place(extremeOf(map, calm, cells, 1), 'DEV-MOST');
    const judged = zoneVerdict(
      least,
      most,
      limits,
      { coverage, gap: largestGap(map, zoneMap.area, cells) },
      plan,
      method,
    );
    return {
      zone: zone.name,
      least,
      most,
      ...zoneValue({ ...least, budget: leastBudget }, { ...most, budget: mostBudget }, limits),
      coverage,
      lower: limits ? -limits.minus : null,
      upper: limits ? limits.plus : null,
      ...judged,
      reach: where,
    };
  });
}

/** Zone value V and its budget: that of the extreme that governs it, twice, since its excess counts twice. */
function zoneValue(least: Judged, most: Judged, zone: PlanZone | null): Pick<ZoneDeviation, 'profileValue' | 'budget'> {
  const none = (status: 'not-applicable' | 'not-measured', reason: string) => ({
    profileValue: unmeasured(status, reason, 'mm', PROFILE),
  });
  if (!zone) return none('not-applicable', 'The plan gives no limits for this zone.');
  if (least.value === null || most.value === null) return none('not-measured', 'No cell of the zone is measured.');
  const { u, budget } = governingExtreme(least.value, most.value, zone) === 'most' ? most : least;
  const value = profileValue(least.value, most.value, zone);
  return {
    profileValue: measured(value, u === null ? null : 2 * u, 'mm', PROFILE, {
      parameters: { plus: zone.plus, minus: zone.minus },
    }),
    ...(budget ? { budget: timesBudget(budget, 2) } : {}),
  };
}

function zoneVerdict(
  least: PlacedValue,
  most: PlacedValue,
  zone: PlanZone | null,
  seen: { coverage: number; gap: MapGap | null },
  plan: Plan | null,
  method: Alignment['method'] | null,
): { verdict: Verdict; reason?: string } {
  if (!zone) return { verdict: 'no-limit' };
  const rule = ruleOf(plan);
  const verdict = overallVerdict([
    decide(least.value, least.u, -zone.minus, null, rule).verdict,
    decide(most.value, most.u, null, zone.plus, rule).verdict,
  ]);
  if (least.value !== null && awaitsDatums(plan, method)) return { verdict: 'not-proven', reason: DATUM_REASON };
  const unseen = verdict === 'fail' ? null : unseenReason(seen.coverage, seen.gap, plan);
  if (unseen !== null) return { verdict: 'not-measured', reason: unseen };
  return { verdict };
}

/** Why a zone is not measured enough to pass: too little of it, or too much missing in one place; null when it is. */
export function unseenReason(coverage: number, gap: MapGap | null, plan: Plan | null): string | null {
  const wanted = plan?.minCoverage ?? DEFAULT_MIN_COVERAGE;
  if (coverage < wanted) return `${shareText(coverage)} of the zone is measured, ${shareText(wanted)} is wanted.`;
  if (gap !== null && gap.area > LARGEST_GAP)
    return `A stretch of ${gap.area.toFixed(1)} mm² about height ${gap.height.toFixed(1)} mm is not measured; ${LARGEST_GAP} mm² in one place is the most.`;
  return null;
}
