import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import { camberPoint, type Extension } from './camber-point.ts';
import { contourAt, contourPoint } from './contour.ts';
import { edgeArc } from './edge-arc.ts';
import { sharpestTurn } from './edge-bend.ts';
import { hasCorner } from './edge-radius.ts';
import { edgeExtreme, referenceChord } from './reference-chord.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';
import { supportUncertainty } from './shape-support.ts';

/** Both coordinates of an edge point. */
export interface EdgePoint {
  x: Value;
  y: Value;
}

/** Half angle (rad) of normal direction of the edge that is searched. */
const HALF_ANGLE = (75 * Math.PI) / 180;
/** Turn (rad) over which the curvature is the mean, and turn over which it may stay alike. */
const TURN = (5 * Math.PI) / 180;
const MOST_ALIKE = Math.PI / 3;
const place = contourPoint();

/** Returns the edge point EP-CAM: where the extended line of centres meets the outline. */
export function camberEdgePoint(context: SectionContext, edge: EdgeContext, extension: Extension): EdgePoint {
  const parameters = { extension };
  const found = camberPoint(context, edge, extension);
  if (found) return pointAt(context, edge.which, 'EP-CAM', parameters, found.t, found.x, found.y, found);
  const why = 'The line of centres is too short for an arc.';
  return both(unmeasured('not-converged', why, 'mm', 'EP-CAM', { parameters }));
}

/** Returns the end of the longest chord, EP-FAR. */
export function farPoint(context: SectionContext, which: 'leading' | 'trailing'): EdgePoint {
  return farEnd(context, which, 'EP-FAR', {});
}

/**
 * Returns the outline point extremal along a direction, EP-EXT. Along the chord, direction and point depend on one another;
 * their fixed point is the end of the longest chord. Axial is along X.
 */
export function extremePoint(
  context: SectionContext,
  which: 'leading' | 'trailing',
  direction: 'chord' | 'axial',
): EdgePoint {
  const parameters = { direction };
  if (direction === 'chord') return farEnd(context, which, 'EP-EXT', parameters);
  const { far, noise, section, line } = context;
  const outX = (which === 'leading' ? -1 : 1) * (far.trailingX >= far.leadingX ? 1 : -1);
  const found = edgeExtreme(context, outX, 0);
  const shape = line?.[which].shape;
  contourAt(section.outline, found.t, place);
  const onOutline = noise && place.curvature > 0 ? noise.direction(found.t) / place.curvature : found.u;
  return pointAt(context, which, 'EP-EXT', parameters, found.t, found.x, found.y, {
    along: found.u,
    across: (shape ? supportUncertainty(shape, outX, 0, 0, 1) : null) ?? onOutline,
    outX,
    outY: 0,
  });
}

/** Returns the place of the greatest curvature of the edge, EP-CUR; for information, as noise makes it wander. */
export function curvaturePoint(context: SectionContext, edge: EdgeContext): EdgePoint {
  const { noise, section } = context;
  if (edge.end.kind === 'sharp')
    return pointAt(context, edge.which, 'EP-CUR', {}, edge.nose, edge.end.x, edge.end.y, {
      along: edge.end.u,
      across: edge.end.u,
      outX: edge.outX,
      outY: edge.outY,
    });
  const none = (why: string) => both(unmeasured('not-applicable', why, 'mm', 'EP-CUR'));
  if (hasCorner(context, edge)) return none(`The ${edge.which} edge has sharp corners.`);
  const arc = edgeArc(context.contour, edge.nose, edge.outX, edge.outY, HALF_ANGLE);
  const turn = arc ? sharpestTurn(context, arc.from, arc.to, TURN) : null;
  if (!turn) return none(`The ${edge.which} edge turns too little.`);
  if (turn.alike > MOST_ALIKE) return none(`The ${edge.which} edge is round: no place of it bends most.`);
  contourAt(section.outline, turn.t, place);
  const { x, y, tx, ty, speed } = place;
  return pointAt(context, edge.which, 'EP-CUR', {}, turn.t, x, y, {
    along: noise ? noise.at(turn.t) : null,
    across: noise ? (speed * (turn.to - turn.from)) / Math.sqrt(12) : null,
    outX: ty,
    outY: -tx,
  });
}

function farEnd(
  context: SectionContext,
  which: 'leading' | 'trailing',
  definition: string,
  parameters: Parameters,
): EdgePoint {
  const { far } = context;
  const chord = referenceChord(context, 'CH-FAR');
  if ('reason' in chord) return both(unmeasured(chord.status, chord.reason, 'mm', definition, { parameters }));
  const direction = { outX: chord.dx, outY: chord.dy };
  return which === 'leading'
    ? pointAt(context, which, definition, parameters, far.leadingT, chord.x1, chord.y1, {
        along: chord.uEnd1,
        across: chord.uAcross1,
        ...direction,
      })
    : pointAt(context, which, definition, parameters, far.trailingT, chord.x2, chord.y2, {
        along: chord.uEnd2,
        across: chord.uAcross2,
        ...direction,
      });
}

/** Uncertainty of a point along and across a unit direction (mm). */
interface Spread {
  along: number | null;
  across: number | null;
  outX: number;
  outY: number;
}

function pointAt(
  context: SectionContext,
  which: 'leading' | 'trailing',
  definition: string,
  parameters: Parameters,
  t: number,
  x: number,
  y: number,
  spread: Spread,
): EdgePoint {
  const missing = lacking(context, [[t, t, `the ${which} edge`]], 'mm', definition);
  if (missing) return both({ ...missing, parameters });
  const { along, across, outX, outY } = spread;
  const u = (cosine: number, sine: number) =>
    along === null || across === null ? null : Math.hypot(along * cosine, across * sine);
  const evidence = { x, y };
  return {
    x: measured(x, u(outX, outY), 'mm', definition, { parameters, evidence }),
    y: measured(y, u(outY, outX), 'mm', definition, { parameters, evidence }),
  };
}

function both(value: Value): EdgePoint {
  return { x: value, y: value };
}
