import { contourAt, contourPoint } from '../measure/contour.ts';
import { acrossOf } from './adapt-camber.ts';
import { curveThickness, type EdgeFlanks, edgeFlanks, ellipseEdge } from './adapt-edge.ts';
import { type EdgeFrame, nominalThickness, type SectionFrame } from './adapt-frame.ts';
import type { AdaptSettings, EdgeSettings } from './adapt-settings.ts';
import type { EdgeCurve } from './edge-curve.ts';

const place = contourPoint();
const LEAST_RATIO = 0.4;
const MOST_RATIO = 8;
const ROUNDS = 28;
/** Shares of the greatest set-back at which an ellipse is to be as thick as the nominal. */
const NEAR = [0.02, 0.05, 0.1, 0.2, 0.35, 0.6];
const GOLDEN = 0.6180339887498949;

/** Set-backs at which the thickness of an edge is held: those of the settings inside its greatest one. */
export function heldSetbacks(settings: AdaptSettings, edge: EdgeSettings): number[] {
  return settings.setbacks.filter((b) => b <= edge.most + 1e-9);
}

/** The form asked of one edge, found on the nominal flanks: its ratio and the thickness it has there. */
export interface EdgeDesign {
  /** Ratio of the ellipse; null where the nominal edge is kept. */
  ratio: number | null;
  /** Thickness wanted at the held set-backs (mm), in their order. */
  thickness: (number | null)[];
}

/**
 * Returns what an edge shall keep. Without a ratio, an ellipse or conic takes the one whose thickness near the
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
  if (settings.form === 'nominal') return { ratio: null, thickness: nominal };
  const flanks = edgeFlanks(frame, edge, edge.line, frame.nominal, own.most);
  const nose = nominalNose(frame, edge);
  const form = settings.form;
  const thicknessOf = (ratio: number): (number | null)[] | null => {
    const curve = ellipseEdge(flanks, edge.line, ratio, nose, own, form);
    if (typeof curve === 'string') return null;
    return held.map((b) => thicknessAt(frame, flanks, curve, b));
  };
  if (settings.ratio !== null) {
    const thickness = thicknessOf(settings.ratio);
    return thickness && { ratio: settings.ratio, thickness };
  }
  const near = NEAR.map((share) => share * own.most);
  const nearNominal = near.map((b) => nominalThickness(frame, edge, b) ?? 0);
  const misfit = (log: number): number => {
    const curve = ellipseEdge(flanks, edge.line, Math.exp(log), nose, own, form);
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
  const ratio = Math.exp(0.5 * (low + high));
  const thickness = thicknessOf(ratio);
  return thickness && { ratio, thickness };
}

/** The nominal nose (mm). */
export function nominalNose(frame: SectionFrame, edge: EdgeFrame): { x: number; y: number } {
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
