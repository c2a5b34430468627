import type { NominalBlade } from '../fit/nominal-blade.ts';
import type { FlankName } from '../measure/definitions/definition.ts';
import type { Adapt, AdaptCheck, AdaptedSection } from '../model/adapt-results.ts';
import type { SectionTable } from '../model/shape.ts';
import type { StockZoneResult } from '../model/stock-results.ts';
import { unmeasured } from '../model/value.ts';
import type { EdgeMoves, KeptFlanks } from './adapt-base.ts';
import {
  ADAPT_LIMITS,
  type AdaptLimits,
  type NumberedSection,
  sectionChecks,
  spanCheck,
  verdictOf,
} from './adapt-checks.ts';
import { departsFrom } from './adapt-departs.ts';
import { endedEdges } from './adapt-design.ts';
import { fadeNumbers } from './adapt-fade.ts';
import { flankField } from './adapt-flanks.ts';
import { type SectionFrame, sectionFrame } from './adapt-frame.ts';
import { adaptedChord, edgeNumbers } from './adapt-measures.ts';
import { edgeMoves } from './adapt-moves.ts';
import {
  type BuiltSection,
  bentWayOf,
  buildSection,
  ENDS,
  type End,
  type JunctionSetbacks,
  planSection,
} from './adapt-section.ts';
import { type AdaptSettings, adaptSettings } from './adapt-settings.ts';
import { smoothSpan } from './adapt-span.ts';
import { type AdaptedOver, coverageCheck, cutStock, fadeCheck, profileCheck, stockCheck } from './adapt-stock.ts';
import { type AdaptedOutline, adaptedBlade, bladeTable, departures } from './adapt-surface.ts';
import type { StockInput } from './stock-scene.ts';
import { edgeReachOf } from './stock-zones.ts';

/** What a finished blade is adapted from: the blank's stock over the nominal in the chosen placement. */
export interface AdaptInput extends StockInput {
  /** Heights and names of the sections; their surface is `surface`. */
  blade: Pick<NominalBlade, 'sections'>;
  /** What may stay as forged, from the blank's record. */
  verdicts: readonly Pick<StockZoneResult, 'zone' | 'reach' | 'asForged'>[];
}

/** The adapted blade, usable wherever a nominal is, with everything told of it; null where it is refused. */
export interface AdaptedBlade {
  results: Adapt;
  blade: NominalBlade | null;
  table: SectionTable | null;
}

/**
 * Returns the finished blade adapted to a blank: flanks that may stay as forged are kept, edges are built between them so
 * that chord, thickness and form hold, moved as a whole onto the middle of the flanks, smoothed over the span and faded
 * into the flanks. Every check is held; a blade with a check that fails or was not measured is refused.
 */
export function adaptBlade(input: AdaptInput, limits: AdaptLimits = ADAPT_LIMITS): AdaptedBlade {
  const { surface, map, plan, zones } = input;
  const reach = edgeReachOf(zones.reaches);
  const asked = adaptSettings(plan, reach);
  const flanks = (['suction', 'pressure'] as const).map((side) => keptFlank(input, asked, side));
  const window = { leading: asked.leading.zone, trailing: asked.trailing.zone };
  const fieldOf = (side: FlankName) =>
    flanks.some((flank) => flank.side === side && flank.kept) ? flankField(surface, map, side, window) : null;
  const kept: KeptFlanks = { suction: fieldOf('suction'), pressure: fieldOf('pressure') };
  const frames = input.blade.sections.map(({ id, height }) => sectionFrame(surface, id, height));
  const plans = frames.map((frame) => planSection(frame, kept, asked));
  const settings = endedEdges(asked, {
    leading: plans.map(({ design }) => design.leading),
    trailing: plans.map(({ design }) => design.trailing),
  });
  const moves = edgeMoves(plans, kept, settings, input);
  const solved = plans.map((at, k) => buildSection(at, kept, moves[k], settings));
  const built = settings.form === 'nominal' ? solved : rebuilt(solved, kept, moves, settings);
  const numbered = built.flatMap((section) => numberedSection(section, kept, settings));
  if (numbered.length < built.length || built.length < 2) return refusedAt(built, flanks, settings);
  const outlines = built.map(adaptedOutline);
  const departs = departures(surface, outlines);
  const over: AdaptedOver = { ...input, frames, kept, settings, departs };
  const cut = cutStock(over);
  const { checks, reasons } = sectionChecks(numbered, settings, limits);
  const all: AdaptCheck[] = [
    ...checks,
    zoneCheck(settings),
    spanCheck(numbered, limits.span),
    stockCheck(input.cells, cut),
    fadeCheck(input.cells, cut, limits.missing),
    profileCheck(over),
    coverageCheck(over, cut),
  ];
  addStockReasons(reasons, frames, input, cut);
  const sections = numbered.map((section, k) => sectionRecord(section, reasons[k]));
  const verdict = verdictOf(all);
  const failed = all.find((check) => check.verdict === verdict);
  const isRefused = verdict === 'fail' || verdict === 'not-measured';
  const refused = isRefused && failed ? { refusedReason: refusalOf(failed) } : {};
  const blade = isRefused ? null : adaptedBlade(outlines);
  return {
    results: {
      verdict,
      method: 'edges',
      flanks,
      sections,
      checks: all,
      departs: departsFrom(surface, departs, reach),
      ...refused,
    },
    blade,
    table: blade && bladeTable(blade),
  };
}

/** Whether a flank stays as forged: the plan wants it, and every zone on it may. */
function keptFlank({ verdicts }: AdaptInput, settings: AdaptSettings, side: FlankName): Adapt['flanks'][number] {
  if (settings.flanks === 'nominal') return { side, kept: false, reason: 'The plan has the flanks cut to nominal.' };
  const own = verdicts.filter(({ reach }) => reach.side === side || reach.side === 'all');
  const against = own.find(({ asForged }) => asForged.verdict !== 'pass');
  if (own.length === 0) return { side, kept: false, reason: 'No zone holds this flank.' };
  if (against) return { side, kept: false, reason: `${against.zone}: ${against.asForged.reason}` };
  return { side, kept: true, reason: own[0].asForged.reason };
}

/** Builds again with the set-backs of the junctions smoothed over the span, and with continuous curvature if asked. */
function rebuilt(
  solved: readonly BuiltSection[],
  kept: KeptFlanks,
  moves: readonly EdgeMoves[],
  settings: AdaptSettings,
): BuiltSection[] {
  if (solved.some(({ outline }) => outline === null)) return [...solved];
  const heights = solved.map(({ plan }) => plan.frame.height);
  const run = (e: number, side: 0 | 1) =>
    smoothSpan(
      heights,
      solved.map(({ edges }) => edges[e].curve?.junctions[side].setback ?? 0),
    );
  const given = ENDS.map((_, e) => [run(e, 0), run(e, 1)]);
  const middle = solved[solved.length >> 1];
  const wayOf = (end: End) => (settings.continuity === 'G2' ? bentWayOf(middle, settings, end) : null);
  const bent = { leading: wayOf('leading'), trailing: wayOf('trailing') };
  return solved.map(({ plan }, k) => {
    const at = (e: number): JunctionSetbacks => ({ suction: given[e][0][k], pressure: given[e][1][k] });
    return buildSection(plan, kept, moves[k], settings, { leading: at(0), trailing: at(1) }, bent);
  });
}

function numberedSection(built: BuiltSection, kept: KeptFlanks, settings: AdaptSettings): NumberedSection[] {
  const { outline } = built;
  if (!outline) return [];
  return [
    {
      built,
      chord: adaptedChord(built, outline),
      edges: built.edges.map((edge) => edgeNumbers(built, edge, outline, kept, settings)),
      ...fadeNumbers(built, kept, settings),
    },
  ];
}

function adaptedOutline({ plan, base, outline }: BuiltSection): AdaptedOutline {
  const { id, height, nominal } = plan.frame;
  return { id, height, outline: outline ?? base.outline, nominal };
}

function sectionRecord({ built, chord, edges }: NumberedSection, reasons: (string | null)[]): AdaptedSection {
  const { id, height } = built.plan.frame;
  const records = edges.map((edge, e) => {
    const reason = reasons[e];
    return reason === null ? { ...edge, verdict: 'pass' as const } : { ...edge, verdict: 'fail' as const, reason };
  });
  const reason = reasons.find((text) => text !== null);
  return { id, height, chord, edges: records, verdict: reason ? 'fail' : 'pass', ...(reason ? { reason } : {}) };
}

function zoneCheck(settings: AdaptSettings): AdaptCheck {
  const ends = ENDS.map((end): { end: End; beyond: number } => {
    const { most, blend, zone } = settings[end];
    return { end, beyond: most + blend - zone };
  });
  const worst = ends[0].beyond >= ends[1].beyond ? ends[0] : ends[1];
  return {
    id: 'setback',
    name: 'End of the blend beyond the edge zone',
    value: Math.max(0, worst.beyond),
    limit: 0,
    unit: 'mm',
    verdict: worst.beyond > 1e-9 ? 'fail' : 'pass',
    where: `${worst.end} edge`,
  };
}

/** Says at each section which edge is short of stock, from the cells nearest to it. */
function addStockReasons(
  reasons: (string | null)[][],
  frames: readonly SectionFrame[],
  { cells }: AdaptInput,
  { spare, isLeading }: ReturnType<typeof cutStock>,
): void {
  const least = frames.map(() => [0, 0]);
  for (let k = 0; k < cells.count; k++) {
    if (!(spare[k] < 0)) continue;
    let nearest = 0;
    for (let r = 1; r < frames.length; r++)
      if (Math.abs(frames[r].height - cells.height[k]) < Math.abs(frames[nearest].height - cells.height[k]))
        nearest = r;
    const e = isLeading[k] ? 0 : 1;
    least[nearest][e] = Math.min(least[nearest][e], spare[k]);
  }
  least.forEach((row, r) => {
    row.forEach((value, e) => {
      if (value < 0 && reasons[r][e] === null)
        reasons[r][e] = `The blank lacks ${(-value).toFixed(3)} mm of the stock wanted here.`;
    });
  });
}

function refusalOf({ name, value, limit, unit, where, verdict }: AdaptCheck): string {
  const at = where === null ? '' : ` at ${where}`;
  if (verdict === 'not-measured') return `${name}: not measured enough${at}.`;
  const amount = value === null ? '' : ` ${value.toFixed(3).replace('-', '−')}${unit ? ` ${unit}` : ''}`;
  return `${name}:${amount}${at}${limit === null ? '' : `, limit ${limit}${unit ? ` ${unit}` : ''}`}.`;
}

/** The answer when an edge cannot be built: which ones, and why. */
function refusedAt(built: readonly BuiltSection[], flanks: Adapt['flanks'], settings: AdaptSettings): AdaptedBlade {
  const sections = built.map(({ plan, edges, outline }): AdaptedSection => {
    const { id, height } = plan.frame;
    const reason = edges.find(({ refused }) => refused !== null)?.refused ?? null;
    const chord = outline
      ? adaptedChord({ plan, edges, outline } as BuiltSection, outline)
      : unmeasured('not-applicable', reason ?? '', 'mm', 'CH-FAR');
    return { id, height, chord, edges: [], verdict: reason ? 'fail' : 'pass', ...(reason ? { reason } : {}) };
  });
  const first = sections.find(({ reason }) => reason !== undefined);
  const reason = first
    ? `Section ${first.id}: ${first.reason}`
    : `An ${settings.form} edge needs sections at two heights or more.`;
  return refusedBlade({ method: 'edges', flanks, sections, checks: [] }, reason);
}

/** Returns the answer where there is no adapted blade at all, with the reason. */
export function refusedBlade(
  told: Pick<Adapt, 'method' | 'flanks' | 'sections' | 'checks'>,
  refusedReason: string,
): AdaptedBlade {
  return { results: { verdict: 'fail', ...told, departs: null, refusedReason }, blade: null, table: null };
}
