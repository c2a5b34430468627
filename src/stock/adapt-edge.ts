import type { NominalOutline } from '../fit/nominal-outline.ts';
import { contourAt, contourOf, contourPoint } from '../measure/contour.ts';
import { cutAtStation } from '../measure/cut-thickness.ts';
import type { FlankName } from '../measure/definitions/definition.ts';
import { acrossOf } from './adapt-camber.ts';
import type { EdgeFrame, SectionFrame } from './adapt-frame.ts';
import type { EdgeSettings } from './adapt-settings.ts';
import { type ConicRefusal, conicCurve, edgeConic } from './edge-conic.ts';
import {
  type ConicForm,
  distanceInside,
  type EdgeCurve,
  type EdgeJunction,
  EXACT,
  type NoseLine,
} from './edge-curve.ts';
import { type EllipseRefusal, type Flank, flankEllipse, type NoseHold } from './edge-ellipse.ts';

/** The two flanks of a section near one edge, by set-back, with the parameters of their places. */
export interface EdgeFlanks {
  suction: Flank;
  pressure: Flank;
  /** Parameter of the outline at a set-back on either flank. */
  parameterAt: (side: FlankName, setback: number) => number | null;
}

/** Why no edge of the form can be built; `no-section`: a flank does not reach back to the junction. */
export type EdgeRefusal = ConicRefusal | EllipseRefusal | 'no-section';

/** Why no edge of the form can be built, in words. */
export const REFUSAL_WORDS: Record<EdgeRefusal, string> = {
  'tangents-parallel': 'The flanks run parallel: their tangents do not meet.',
  'apex-inside': 'The flanks meet before the nose line: there is no room for the edge.',
  'junction-beyond': 'A junction would lie outside the nose line.',
  'flanks-cross': 'The flanks cross before the nose line: there is no room for the edge.',
  'flanks-not-closing': 'The flanks do not close towards the nose line.',
  'setback-least': 'The junctions would be nearer to the nose than the set-back allows.',
  'setback-most': 'The junctions would be farther from the nose than the set-back allows.',
  'not-converged': 'No set-back of the junctions gives the form asked for.',
  'no-section': 'The section ends before the junctions.',
};

const place = contourPoint();

/**
 * Returns the flanks of an outline near an edge: as they are from the greatest set-back on, nearer to the nose carried on
 * with the direction and curvature they have there.
 * @param line where the set-backs start
 */
export function edgeFlanks(
  frame: SectionFrame,
  edge: EdgeFrame,
  line: NoseLine,
  base: NominalOutline,
  most: number,
): EdgeFlanks {
  const { outline, edges } = base;
  const contour = contourOf(outline);
  const nose = edge.edge === 'leading-edge' ? edges.leading : edges.trailing;
  const afterIsSuction = (edge.edge === 'leading-edge') === (frame.nominal.edges.firstSide === 'suction');
  const start = line.x * line.inX + line.y * line.inY;
  const parameterAt = (side: FlankName, setback: number): number | null => {
    const cut = cutAtStation(contour, nose, line.inX, line.inY, start + setback);
    if (!cut) return null;
    return (side === 'suction') === afterIsSuction ? cut.after : cut.before;
  };
  const onOutline = (side: FlankName, setback: number): EdgeJunction | null => {
    const t = parameterAt(side, setback);
    if (t === null) return null;
    contourAt(outline, t, place);
    const towards = (side === 'suction') === afterIsSuction ? -1 : 1;
    const [tangentX, tangentY] = [towards * place.tx, towards * place.ty];
    return { x: place.x, y: place.y, tangentX, tangentY, curvature: place.curvature, setback, u: EXACT };
  };
  const flank = (side: FlankName): Flank => {
    const last = onOutline(side, most);
    // The material lies to the left of a counter-clockwise outline; the way to the edge may run against it.
    const left = (side === 'suction') === afterIsSuction ? -1 : 1;
    return (setback) => (setback >= most ? onOutline(side, setback) : last && carriedOn(last, line, left, setback));
  };
  return { suction: flank('suction'), pressure: flank('pressure'), parameterAt };
}

/** The arc of a flank's own curvature from a junction on, up to a smaller set-back; null where it does not get there. */
function carriedOn(from: EdgeJunction, line: NoseLine, left: 1 | -1, setback: number): EdgeJunction | null {
  const { tangentX, tangentY, curvature } = from;
  const turn = left * curvature;
  const step = (s: number): EdgeJunction => {
    const angle = turn * s;
    const [sine, cosine] = [Math.sin(angle), Math.cos(angle)];
    const ahead = Math.abs(angle) < 1e-6 ? s : sine / turn;
    const aside = Math.abs(angle) < 1e-6 ? 0.5 * turn * s * s : (1 - cosine) / turn;
    return {
      ...from,
      x: from.x + ahead * tangentX - aside * tangentY,
      y: from.y + ahead * tangentY + aside * tangentX,
      tangentX: cosine * tangentX - sine * tangentY,
      tangentY: cosine * tangentY + sine * tangentX,
      setback,
    };
  };
  let s = 0;
  for (let round = 0; round < 40; round++) {
    const at = step(s);
    const miss = distanceInside(line, at.x, at.y) - setback;
    const rate = -(at.tangentX * line.inX + at.tangentY * line.inY);
    if (Math.abs(miss) < 1e-13 * (1 + setback)) return at;
    if (!(rate > 1e-3)) return null;
    s += miss / rate;
  }
  return null;
}

/** Returns the ellipse of a ratio between the flanks, its nose or axis held, set-backs solved for; see `flankEllipse`. */
export function ellipseEdge(
  flanks: EdgeFlanks,
  line: NoseLine,
  ratio: number,
  hold: NoseHold,
  settings: EdgeSettings,
  form: ConicForm,
): EdgeCurve | EdgeRefusal {
  const found = flankEllipse(flanks.suction, flanks.pressure, line, ratio, hold, settings);
  if (typeof found === 'string') return found;
  return conicCurve(found.conic, found.junctions, line, form);
}

/** Returns the conic between the flanks at given set-backs that touches the nose line. */
export function conicEdge(
  flanks: EdgeFlanks,
  line: NoseLine,
  setbacks: { suction: number; pressure: number },
  form: ConicForm,
): EdgeCurve | EdgeRefusal {
  const junctions: [EdgeJunction | null, EdgeJunction | null] = [
    flanks.suction(setbacks.suction),
    flanks.pressure(setbacks.pressure),
  ];
  const [first, second] = junctions;
  if (!first || !second) return 'no-section';
  const conic = edgeConic(first, second, line);
  return typeof conic === 'string' ? conic : conicCurve(conic, [first, second], line, form);
}

/** Returns the thickness of an edge curve normal to the chord at a set-back (mm); null where it does not reach so far. */
export function curveThickness(frame: SectionFrame, curve: EdgeCurve, setback: number): number | null {
  const out = new Float64Array(8);
  const depth = (t: number) => {
    curve.evaluate(t, out);
    return (out[0] - curve.line.x) * curve.line.inX + (out[1] - curve.line.y) * curve.line.inY;
  };
  const across = [0, 1].map((end) => {
    let [inner, outer] = [end, curve.nose.t];
    if (depth(inner) < setback) return null;
    for (let round = 0; round < 60; round++) {
      const middle = 0.5 * (inner + outer);
      if (depth(middle) < setback) outer = middle;
      else inner = middle;
    }
    depth(inner);
    return acrossOf(frame, out[0], out[1]);
  });
  return across[0] === null || across[1] === null ? null : Math.abs(across[0] - across[1]);
}
