import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { sharpestTurn } from './edge-bend.ts';
import { normalDeg } from './edge-circle.ts';
import { cornerFit } from './edge-corner-fit.ts';
import { type CornerPeak, cornerPeaks } from './edge-peaks.ts';
import { cornersBetween, hasCorner, noArcReason } from './edge-radius.ts';
import type { EdgeContext, SectionContext } from './section-context.ts';
import { isValue, measuredZone } from './zone-of-edge.ts';

/** Turn (rad) over which a radius of curvature is the mean. */
const TURN = (5 * Math.PI) / 180;
/** Prominence of a corner whose radius is taken. */
const PROMINENCE = 0.5;
const place = contourPoint();

/**
 * Returns the least radius of curvature within a set-back of the nose (CORNER): of an exact outline the mean over a turn of
 * 5 degrees, of a measured one that of a circle or conic through the points of its sharpest corner.
 * @param setback of the zone from the nose (mm)
 */
export function cornerRadius(context: SectionContext, edge: EdgeContext, setback: number): Value {
  const parameters = { setback };
  const none = (why: string) => unmeasured('not-applicable', why, 'mm', 'CORNER', { parameters });
  const reason = noArcReason(edge, hasCorner(context, edge));
  if (reason) return none(reason);
  const cut = measuredZone(context, edge, setback, 'mm', 'CORNER', parameters);
  if (isValue(cut)) return cut;
  if (cornersBetween(context, cut.before, cut.after).length > 0)
    return none(`A sharp corner lies within the set-back of the ${edge.which} edge.`);
  if (context.noise) {
    const fits = cornerPeaks(context, edge, cut, PROMINENCE).flatMap((peak) => {
      const fit = cornerFit(context, peak);
      return fit ? [{ ...fit, t: 0.5 * (peak.from + peak.to), peak }] : [];
    });
    const least = fits.sort((a, b) => a.radius - b.radius)[0];
    if (least) {
      const { radius, u, rms, points, peak } = least;
      const ends = { fromDeg: normalDeg(context, peak.from), toDeg: normalDeg(context, peak.to) };
      const evidence = { ...centreOf(context, least.t, radius), ...ends, rms, points };
      return measured(radius, u, 'mm', 'CORNER', { parameters, evidence });
    }
  }
  const turn = sharpestTurn(context, cut.before, cut.after, TURN);
  if (!turn) return none(`The ${edge.which} edge turns too little within the set-back.`);
  const normal = normalDeg(context, turn.t);
  const half = (0.5 * TURN * 180) / Math.PI;
  return measured(turn.radius, turn.u, 'mm', 'CORNER', {
    parameters,
    evidence: { ...centreOf(context, turn.t, turn.radius), fromDeg: normal - half, toDeg: normal + half },
  });
}

function centreOf(context: SectionContext, t: number, radius: number): { centreX: number; centreY: number } {
  contourAt(context.section.outline, t, place);
  return { centreX: place.x - radius * place.ty, centreY: place.y + radius * place.tx };
}

/** What counts as the two corners of an edge. */
export interface CornerRule {
  /** Zone from the nose (mm). */
  setback: number;
  /** Least rise of a corner's curvature over the lowest between it and a greater one, as a share of its own. */
  prominence: number;
  /** Least angle between the corners' normals (degrees). */
  separationDeg: number;
}

/**
 * Returns the angle (degrees) between the normals of the two corners of an edge (CORNERS-2); not applicable
 * when it has fewer than two or the outermost two are too close.
 */
export function cornerSeparation(context: SectionContext, edge: EdgeContext, rule: CornerRule): Value {
  const parameters = { ...rule };
  if (edge.end.kind === 'sharp')
    return unmeasured('not-applicable', `The ${edge.which} edge is sharp: it has no arc.`, 'deg', 'CORNERS-2', {
      parameters,
    });
  const cut = measuredZone(context, edge, rule.setback, 'deg', 'CORNERS-2', parameters);
  if (isValue(cut)) return cut;
  const peaks = cornerPeaks(context, edge, cut, rule.prominence);
  const evidence = evidenceOf(peaks);
  const none = (why: string) => unmeasured('not-applicable', why, 'deg', 'CORNERS-2', { parameters, evidence });
  if (peaks.length < 2) return none(`The ${edge.which} edge has ${peaks.length === 1 ? 'one corner' : 'no corner'}.`);
  const [a, b] = [peaks[0], peaks[peaks.length - 1]];
  const separation = Math.abs(a.angleDeg - b.angleDeg);
  if (separation < rule.separationDeg)
    return none(`The corners of the ${edge.which} edge lie only ${separation.toFixed(0)}° apart.`);
  const u = a.uDeg === null || b.uDeg === null ? null : Math.hypot(a.uDeg, b.uDeg);
  return measured(separation, u, 'deg', 'CORNERS-2', { parameters, evidence });
}

function evidenceOf(peaks: CornerPeak[]): NonNullable<Value['evidence']> {
  return {
    corners: peaks.length,
    normalsDeg: peaks.map((peak) => peak.angleDeg),
    radii: peaks.map((peak) => peak.radius),
    cornersX: peaks.map((peak) => peak.x),
    cornersY: peaks.map((peak) => peak.y),
  };
}
