import { type NominalOutline, nominalOutline } from '../fit/nominal-outline.ts';
import type { SurfaceSection } from '../section/surface-section.ts';
import { type FlankField, flankOffset } from './adapt-flanks.ts';
import { type SectionFrame, setbacksOf } from './adapt-frame.ts';
import type { AdaptSettings } from './adapt-settings.ts';
import { fade } from './blend-fade.ts';
import { fieldAt } from './offset-field-spline.ts';

/** The flanks that stay as forged; null: cut to the nominal. */
export interface KeptFlanks {
  suction: FlankField | null;
  pressure: FlankField | null;
}

/** Motion of one edge as a whole: along the chord (positive towards the trailing edge) and to its left (mm). */
export interface EdgeMove {
  along: number;
  across: number;
}

/** Motions of both edges of a section. */
export interface EdgeMoves {
  leading: EdgeMove;
  trailing: EdgeMove;
}

const NO_MOVE: EdgeMove = { along: 0, across: 0 };

/** Deviation of the kept flank at a position of the outline (mm), 0 where it is cut to nominal. */
export function keptOffset(flanks: KeptFlanks, u: number, height: number): number {
  const flank = u < 0 ? flanks.suction : flanks.pressure;
  return flank ? fieldAt(flank.field, u, height) : 0;
}

/** Standard uncertainty of the same (mm). */
export function keptUncertainty(flanks: KeptFlanks, u: number, height: number): number {
  const flank = u < 0 ? flanks.suction : flanks.pressure;
  return flank ? flankOffset(flank, u, height).u : 0;
}

/** Displacement of a move in the section's plane. */
export function moveVector(frame: SectionFrame, move: EdgeMove): [number, number] {
  return [move.along * frame.dirX - move.across * frame.dirY, move.along * frame.dirY + move.across * frame.dirX];
}

/** Share of an edge in a place of the nominal: 1 up to its greatest set-back, 0 from the end of its fade on. */
export function edgeShares(
  frame: SectionFrame,
  settings: AdaptSettings,
  x: number,
  y: number,
): { leading: number; trailing: number } {
  const back = setbacksOf(frame, x, y);
  const share = (edge: 'leading' | 'trailing') => {
    const { most, blend } = settings[edge];
    return fade('quintic', back[edge] - most, Math.max(blend, 1e-9)).value;
  };
  return { leading: share('leading'), trailing: share('trailing') };
}

/**
 * Returns the section with its kept flanks where they are measured, and the nominal edges, each moved as a whole, faded
 * into them (quintic: curvature stays continuous).
 */
export function baseOutline(
  frame: SectionFrame,
  flanks: KeptFlanks,
  moves: EdgeMoves,
  settings: AdaptSettings,
): NominalOutline {
  const { on, height } = frame;
  const point = new Float64Array(2);
  const leadingBy = moveVector(frame, moves.leading);
  const trailingBy = moveVector(frame, moves.trailing);
  const carry: SurfaceSection['carry'] = (u, deviation, out) => {
    on.carry(u, 0, point);
    const { leading, trailing } = edgeShares(frame, settings, point[0], point[1]);
    on.carry(u, deviation + (1 - leading - trailing) * keptOffset(flanks, u, height), out);
    out[0] += leading * leadingBy[0] + trailing * trailingBy[0];
    out[1] += leading * leadingBy[1] + trailing * trailingBy[1];
  };
  return nominalOutline({ ...on, carry });
}

/** Returns the section with its flanks as measured, carried on up to both noses; sides meet at the noses by a fade. */
export function flankOutline(frame: SectionFrame, flanks: KeptFlanks, settings: AdaptSettings): NominalOutline {
  return baseOutline(frame, flanks, { leading: NO_MOVE, trailing: NO_MOVE }, { ...settings, ...nearNoses(settings) });
}

/** Settings whose fades lie inside the least set-backs, so that the flanks are whole from there on. */
function nearNoses(settings: AdaptSettings): Pick<AdaptSettings, 'leading' | 'trailing'> {
  const near = (edge: AdaptSettings['leading']) => ({
    ...edge,
    most: 0,
    blend: Math.max(1e-3, Math.min(edge.most, edge.blend)),
  });
  return { leading: near(settings.leading), trailing: near(settings.trailing) };
}
