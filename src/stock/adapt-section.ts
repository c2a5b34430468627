import type { NominalOutline } from '../fit/nominal-outline.ts';
import type { Outline } from '../model/outline.ts';
import { baseOutline, type EdgeMoves, flankOutline, type KeptFlanks, moveVector } from './adapt-base.ts';
import { middleShift } from './adapt-camber.ts';
import { type EdgeDesign, edgeDesign, heldSetbacks } from './adapt-design.ts';
import { conicEdge, type EdgeFlanks, edgeFlanks, ellipseEdge, REFUSAL_WORDS } from './adapt-edge.ts';
import { type EdgeFrame, type SectionFrame, shiftedLine } from './adapt-frame.ts';
import { type BentTask, type BentWay, bentEdge, bentWay } from './adapt-g2.ts';
import type { AdaptSettings, EdgeSettings } from './adapt-settings.ts';
import { type SplicedEdge, spliceEdges } from './adapt-splice.ts';
import type { EdgeCurve, NoseLine } from './edge-curve.ts';

export type End = 'leading' | 'trailing';
export const ENDS = ['leading', 'trailing'] as const;

/** A section before its edges are built: its flanks, and what its edges shall keep. */
export interface SectionPlan {
  frame: SectionFrame;
  /** With the flanks as measured. */
  flanks: NominalOutline;
  /** How far the middle between the flanks lies off the nominal's at either nose (mm, left of the chord). */
  middle: Record<End, number | null>;
  design: Record<End, EdgeDesign | null>;
}

/** One built edge of a section. */
export interface BuiltEdge {
  end: End;
  line: NoseLine;
  flanks: EdgeFlanks;
  /** The new edge; null: the nominal edge, moved. */
  curve: EdgeCurve | null;
  /** Why it cannot be built. */
  refused: string | null;
}

/** A section with its edges built. */
export interface BuiltSection {
  plan: SectionPlan;
  moves: EdgeMoves;
  base: NominalOutline;
  edges: BuiltEdge[];
  /** The adapted outline; null when an edge is refused. */
  outline: Outline | null;
}

/** Set-backs of the junctions of one edge from its nose line (mm). */
export interface JunctionSetbacks {
  suction: number;
  pressure: number;
}

/** Returns what the section at a frame has to be built from. */
export function planSection(frame: SectionFrame, kept: KeptFlanks, settings: AdaptSettings): SectionPlan {
  const flanks = flankOutline(frame, kept, settings);
  const middle = (end: End) => middleShift(frame, frame[end], settings[end], flanks.outline, flanks.edges[end]);
  const design = (end: End) => edgeDesign(frame, frame[end], settings, settings[end]);
  return {
    frame,
    flanks,
    middle: { leading: middle('leading'), trailing: middle('trailing') },
    design: { leading: design('leading'), trailing: design('trailing') },
  };
}

/**
 * Returns the section with its edges built: the nominal ones moved, or new ones between the flanks.
 * @param given set-backs of the junctions, such as smoothed ones; null: solved for
 * @param bent how edges get continuous curvature; null: they stay conics
 */
export function buildSection(
  plan: SectionPlan,
  kept: KeptFlanks,
  moves: EdgeMoves,
  settings: AdaptSettings,
  given: Partial<Record<End, JunctionSetbacks | null>> = {},
  bent: Partial<Record<End, BentWay | null>> = {},
): BuiltSection {
  const { frame } = plan;
  const base = baseOutline(frame, kept, moves, settings);
  const edges = ENDS.map((end) => builtEdge(plan, base, moves, settings, end, given[end] ?? null, bent[end] ?? null));
  const spliced = edges.flatMap((edge): SplicedEdge[] => {
    const at = edge.curve && spliceAt(frame, frame[edge.end], base, edge, settings[edge.end]);
    return at ? [at] : [];
  });
  const refused = edges.some((edge) => edge.refused !== null);
  return { plan, moves, base, edges, outline: refused ? null : spliceEdges(base, spliced) };
}

function builtEdge(
  plan: SectionPlan,
  base: NominalOutline,
  moves: EdgeMoves,
  settings: AdaptSettings,
  end: End,
  given: JunctionSetbacks | null,
  bent: BentWay | null,
): BuiltEdge {
  const { frame, design } = plan;
  const edge = frame[end];
  const own = settings[end];
  const line = shiftedLine(frame, edge.line, moves[end].along);
  const flanks = edgeFlanks(frame, edge, line, base, own.most);
  const none = { end, line, flanks, curve: null };
  const wanted = design[end];
  if (!wanted) return { ...none, refused: 'The form cannot be made on the nominal section within the set-backs.' };
  if (settings.form === 'nominal' || wanted.ratio === null) return { ...none, refused: null };
  const [dx, dy] = moveVector(frame, moves[end]);
  const { nose } = wanted;
  const curve = given
    ? conicEdge(flanks, line, given, settings.form)
    : ellipseEdge(flanks, line, wanted.ratio, { at: { x: nose.x + dx, y: nose.y + dy } }, own, settings.form);
  if (typeof curve === 'string') return { ...none, refused: REFUSAL_WORDS[curve] };
  if (!bent) return { ...none, curve, refused: null };
  const task = bentTask(plan, settings, end, line, flanks, setbacksOfCurve(curve), { x: nose.x + dx, y: nose.y + dy });
  const smooth = bentEdge(task, bent);
  return smooth
    ? { ...none, curve: smooth, refused: null }
    : { ...none, refused: 'No curve joins the flanks with their curvature at these junctions.' };
}

function setbacksOfCurve({ junctions }: EdgeCurve): JunctionSetbacks {
  return { suction: junctions[0].setback, pressure: junctions[1].setback };
}

function bentTask(
  plan: SectionPlan,
  settings: AdaptSettings,
  end: End,
  line: NoseLine,
  flanks: EdgeFlanks,
  setbacks: JunctionSetbacks,
  nose: { x: number; y: number },
): BentTask {
  const thickness = heldSetbacks(settings, settings[end]).flatMap((setback, i) => {
    const value = plan.design[end]?.thickness[i] ?? null;
    return value === null ? [] : [{ setback, value }];
  });
  const form = settings.form === 'nominal' ? 'conic' : settings.form;
  return { flanks, line, setbacks, most: settings[end].most, nose, thickness, form };
}

/** Returns how an edge of a section built with conics can be given continuous curvature; null where it cannot. */
export function bentWayOf({ plan, moves, edges }: BuiltSection, settings: AdaptSettings, end: End): BentWay | null {
  const { flanks, line, curve } = edges[ENDS.indexOf(end)];
  const nose = plan.design[end]?.nose;
  if (!curve || !nose) return null;
  const [dx, dy] = moveVector(plan.frame, moves[end]);
  const at = { x: nose.x + dx, y: nose.y + dy };
  return bentWay(bentTask(plan, settings, end, line, flanks, setbacksOfCurve(curve), at));
}

function spliceAt(
  frame: SectionFrame,
  edge: EdgeFrame,
  base: NominalOutline,
  { curve, flanks }: BuiltEdge,
  { most }: EdgeSettings,
): SplicedEdge | null {
  const [suction, pressure] = [flanks.parameterAt('suction', most), flanks.parameterAt('pressure', most)];
  if (!curve || suction === null || pressure === null) return null;
  const afterSide =
    (edge.edge === 'leading-edge') === (frame.nominal.edges.firstSide === 'suction') ? 'suction' : 'pressure';
  const [before, after] = afterSide === 'suction' ? [pressure, suction] : [suction, pressure];
  const { period } = base.outline;
  return { curve, flanks, most, before, after: after < before ? after + period : after, afterSide };
}
