import { contourAt, contourPoint } from '../measure/contour.ts';
import { acrossOf, middleDirection } from './adapt-camber.ts';
import { curveThickness, type EdgeFlanks, edgeFlanks, ellipseEdge } from './adapt-edge.ts';
import { type EdgeFrame, nominalThickness, type SectionFrame } from './adapt-frame.ts';
import type { AdaptSettings, EdgeSettings } from './adapt-settings.ts';
import type { EdgeCurve, NoseLine } from './edge-curve.ts';
import type { NoseHold } from './edge-ellipse.ts';

const place = contourPoint();
const LEAST_RATIO = 0.4;
const MOST_RATIO = 8;
const ROUNDS = 28;
/** Shares of the greatest set-back at which an ellipse is to be as thick as the nominal. */
const NEAR = [0.02, 0.05, 0.1, 0.2, 0.35, 0.6];
/** Room behind the farthest junction for what smoothing over the span moves it. */
const ROOM = 1.05;
const GOLDEN = 0.6180339887498949;

/** Set-backs at which the thickness of an edge is held: those of the settings inside its greatest one. */
export function heldSetbacks(settings: AdaptSettings, edge: EdgeSettings): number[] {
  return settings.setbacks.filter((b) => b <= edge.most + 1e-9);
}

/** The form asked of one edge, found on the nominal flanks: its ratio and the thickness it has there. */
export interface EdgeDesign {
  /** Ratio of the ellipse as seen from the nose line; null where the nominal edge is kept. */
  ratio: number | null;
  /** Cosine between its axis, which lies along the line of middles, and the nose line's normal. */
  cosine: number;
  /** Where the nose lies on the nominal (mm). */
  nose: { x: number; y: number };
  /** Farther set-back of its two junctions (mm); 0 where the nominal edge is kept. */
  reach: number;
  /** Thickness wanted at the held set-backs (mm), in their order. */
  thickness: (number | null)[];
}

/**
 * Returns what an edge shall keep. A ratio is that of half axes, the long one along the nominal's line of
 * middles. Without a ratio, an ellipse or conic takes the one whose thickness near the
 * nose is nearest to the nominal's (golden section in the logarithm). Null where the form cannot be made on the
 * nominal flanks.
 */
export function edgeDesign(
  frame: SectionFrame,
  edge: EdgeFrame,
  settings: AdaptSettings,
  own: EdgeSettings,
): EdgeDesign | null {
  const held = heldSetbacks(settings, own);
  const nominal = held.map((b) => nominalThickness(frame, edge, b));
  const nose = nominalNose(frame, edge);
  if (settings.form === 'nominal') return { ratio: null, cosine: 1, nose, reach: 0, thickness: nominal };
  const along = middleDirection(frame, edge, own.most) ?? { x: edge.line.inX, y: edge.line.inY };
  const cosine = along.x * edge.line.inX + along.y * edge.line.inY;
  const flanks = edgeFlanks(frame, edge, edge.line, frame.nominal, own.most);
  const form = settings.form;
  const designOf = (ratio: number, hold: NoseHold): EdgeDesign | null => {
    const curve = ellipseEdge(flanks, edge.line, ratio, hold, own, form);
    if (typeof curve === 'string') return null;
    const thickness = held.map((b) => thicknessAt(frame, flanks, curve, b));
    const reach = Math.max(curve.junctions[0].setback, curve.junctions[1].setback);
    return { ratio, cosine, nose: { x: curve.nose.x, y: curve.nose.y }, reach, thickness };
  };
  if (settings.ratio !== null) {
    const { ratio, axis } = leaningEllipse(settings.ratio, along, edge.line);
    return designOf(ratio, { axis });
  }
  const near = NEAR.map((share) => share * own.most);
  const nearNominal = near.map((b) => nominalThickness(frame, edge, b) ?? 0);
  const misfit = (log: number): number => {
    const curve = ellipseEdge(flanks, edge.line, Math.exp(log), { at: nose }, own, form);
    if (typeof curve === 'string') return own.most ** 2 * (1 + Math.abs(log));
    return near.reduce((sum, b, i) => sum + ((thicknessAt(frame, flanks, curve, b) ?? 0) - nearNominal[i]) ** 2, 0);
  };
  let [low, high] = [Math.log(LEAST_RATIO), Math.log(MOST_RATIO)];
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [fa, fb] = [misfit(a), misfit(b)];
  for (let round = 0; round < ROUNDS; round++) {
    if (fa < fb) {
      [high, b, fb] = [b, a, fa];
      a = high - GOLDEN * (high - low);
      fa = misfit(a);
    } else {
      [low, a, fa] = [a, b, fb];
      b = low + GOLDEN * (high - low);
      fb = misfit(b);
    }
  }
  return designOf(Math.exp(0.5 * (low + high)), { at: nose });
}

/**
 * An ellipse of half axes k : 1 along and across a direction, as seen from a line it touches: depth of its centre under
 * half its width parallel to the line, h² / k with h² = k² c² + s², and the way from its nose to its centre, k² c along the
 * axis and s across (c, s: cosine and sine of the lean).
 */
function leaningEllipse(k: number, along: { x: number; y: number }, line: NoseLine) {
  const c = along.x * line.inX + along.y * line.inY;
  const s = along.x * line.inY - along.y * line.inX;
  const axis = { x: k * k * c * along.x - s * along.y, y: k * k * c * along.y + s * along.x };
  return { ratio: (k * k * c * c + s * s) / k, axis };
}

/** The ratio of half axes of an ellipse by its ratio seen from the line and the cosine of its lean; null where none has it. */
export function ownRatio(seen: number, cosine: number): number | null {
  const inside = seen * seen - 4 * cosine * cosine * (1 - cosine * cosine);
  return inside >= 0 ? (seen + Math.sqrt(inside)) / (2 * cosine * cosine) : null;
}

/**
 * Returns the settings with each edge ending, and its fade beginning, where all its junctions and held set-backs are
 * behind: what lies between there and the greatest set-back allowed need not be cut. Edges with continuous curvature keep
 * all their room, and so does the nominal form.
 */
export function endedEdges(
  settings: AdaptSettings,
  designs: Record<'leading' | 'trailing', readonly (EdgeDesign | null)[]>,
): AdaptSettings {
  if (settings.form === 'nominal' || settings.continuity === 'G2') return settings;
  const ended = (end: 'leading' | 'trailing'): EdgeSettings => {
    const own = settings[end];
    const reach = designs[end].reduce((most, design) => Math.max(most, design?.reach ?? own.most), 0);
    const most = Math.min(own.most, Math.max(ROOM * reach, ...heldSetbacks(settings, own)));
    return { ...own, most, blend: own.isGiven ? own.blend : Math.max(0, own.zone - most) };
  };
  return { ...settings, leading: ended('leading'), trailing: ended('trailing') };
}

/** The nominal nose (mm). */
function nominalNose(frame: SectionFrame, edge: EdgeFrame): { x: number; y: number } {
  contourAt(frame.nominal.outline, edge.nose, place);
  return { x: place.x, y: place.y };
}

/** Thickness of an edge on its flanks at a set-back (mm): of the curve, or of the flanks behind its junctions. */
function thicknessAt(frame: SectionFrame, flanks: EdgeFlanks, curve: EdgeCurve, setback: number): number | null {
  const own = curveThickness(frame, curve, setback);
  if (own !== null) return own;
  const [a, b] = [flanks.suction(setback), flanks.pressure(setback)];
  return a && b ? Math.abs(acrossOf(frame, a.x, a.y) - acrossOf(frame, b.x, b.y)) : null;
}
