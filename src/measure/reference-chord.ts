import type { Value } from '../model/value.ts';
import { type CamberPoint, camberPoint, type Extension } from './camber-point.ts';
import { bitangent } from './chord-bitangent.ts';
import { contourAt, contourPoint, parameterFrom } from './contour.ts';
import { extremeAlong } from './extreme.ts';
import { contactUncertainty } from './position-noise.ts';
import type { SectionContext } from './section-context.ts';
import { supportOf, supportUncertainty, touchingShapes } from './shape-support.ts';

/** A stretch of outline that a value stands on, and its name. */
export type Stretch = [from: number, to: number, name: string];

/** A chord that lengths and directions are taken from, leading to trailing. */
export interface ReferenceChord {
  definition: string;
  /** Its ends (mm): their distance is its length. */
  x1: number;
  y1: number;
  x2: number;
  y2: number;
  /** Unit direction. */
  dx: number;
  dy: number;
  length: number;
  /** Standard uncertainty of each end along and across it and of its length (mm), of its direction (rad); null without noise. */
  uEnd1: number | null;
  uEnd2: number | null;
  uAcross1: number | null;
  uAcross2: number | null;
  uLength: number | null;
  uAngle: number | null;
  stretches: Stretch[];
  evidence: Record<string, number>;
}

/** Why there is no such chord. */
export interface NoChord {
  definition: string;
  status: Exclude<Value['status'], 'ok'>;
  reason: string;
  evidence: Record<string, number | boolean>;
}

export type ChordId = 'CH-FAR' | 'CH-BT' | 'CH-CAM' | 'CENTRES';

/** A contact of CH-BT farther than this share of CH-FAR from its end touches a flank. */
const END_SHARE = 0.15;
const LEADING = 'the leading edge';
const TRAILING = 'the trailing edge';
type Which = 'leading' | 'trailing';
const place = contourPoint();

/** Returns a chord by its definition, CENTRES being the line through both end-circle centres, or why there is none. */
export function referenceChord(
  context: SectionContext,
  id: ChordId,
  extension: Extension = 'straight',
): ReferenceChord | NoChord {
  if (id === 'CH-FAR') return farReference(context);
  if (id === 'CH-BT') return bitangentReference(context);
  if (id === 'CH-CAM') return camberReference(context, extension);
  return centresReference(context);
}

/** Returns CH-FAR, which every outline has. */
export function farReference(context: SectionContext): ReferenceChord {
  const { far } = context;
  const [first, second] = (['leading', 'trailing'] as const).map((which): EndNoise => {
    return context.noise ? endUncertainty(context, which) : { along: null, across: null };
  });
  return {
    ...ends('CH-FAR', far.leadingX, far.leadingY, far.trailingX, far.trailingY),
    ...uncertainties(first, second, far.length),
    stretches: stretchesAt(far.leadingT, far.trailingT),
    evidence: {},
  };
}

/**
 * Returns the standard uncertainty (mm) of an end of CH-FAR along and across it: of the edge's smooth nose, else of the
 * outline; 0 without noise.
 */
function endUncertainty(context: SectionContext, which: Which): { along: number; across: number } {
  const { noise, section, far, line } = context;
  if (!noise) return { along: 0, across: 0 };
  const sign = which === 'leading' ? -1 : 1;
  const dx = (sign * (far.trailingX - far.leadingX)) / far.length;
  const dy = (sign * (far.trailingY - far.leadingY)) / far.length;
  const shape = line?.[which].shape;
  if (shape) {
    const along = supportUncertainty(shape, dx, dy, dx, dy);
    const across = supportUncertainty(shape, dx, dy, -dy, dx);
    if (along !== null && across !== null) return { along, across };
  }
  const t = which === 'leading' ? far.leadingT : far.trailingT;
  contourAt(section.outline, t, place);
  return { along: noise.at(t), across: place.curvature > 0 ? noise.direction(t) / place.curvature : 0 };
}

/** The straight edge on the concave side; not applicable on biconvex sections and where that side is flat. */
function bitangentReference(context: SectionContext): ReferenceChord | NoChord {
  const { far, contour, noise, options } = context;
  const towardsX = (far.trailingX - far.leadingX) / far.length;
  const towardsY = (far.trailingY - far.leadingY) / far.length;
  const line = bitangent(contour, towardsX, towardsY);
  const none = (reason: string, evidence: NoChord['evidence']): NoChord => {
    return { definition: 'CH-BT', status: 'not-applicable', reason, evidence };
  };
  if (!line) return none('The section has no concave side for a line to rest on.', { flat: false });
  const { depth } = line;
  const u = contactUncertainty(noise, line.leadingT, line.trailingT);
  if (depth < Math.max(options.leastConcavity * far.length, 3 * (u ?? 0)))
    return none('The side is flat: a line rests on the flank, not on the edges.', { flat: true, depth });
  contourAt(context.section.outline, line.trailingT, place);
  const [tx, ty] = [place.x, place.y];
  contourAt(context.section.outline, line.leadingT, place);
  if (!isAtEnd(context, tx, ty) || !isAtEnd(context, place.x, place.y))
    return none('The line touches a flank, not an edge.', { flat: false, depth });
  const shapes = context.line ? [context.line.leading.shape, context.line.trailing.shape] : [null, null];
  const touching = touchingShapes(shapes[0], shapes[1], [place.x, place.y], [tx, ty], place.ty, -place.tx);
  const [[x, y], [x2, y2]] = [touching.first, touching.second];
  const length = Math.hypot(x2 - x, y2 - y);
  const [dx, dy] = [(x2 - x) / length, (y2 - y) / length];
  const uAcross1 = touching.uFirst ?? (noise ? noise.at(line.leadingT) : null);
  const uAcross2 = touching.uSecond ?? (noise ? noise.at(line.trailingT) : null);
  const uAngle = uAcross1 === null || uAcross2 === null ? null : Math.hypot(uAcross1, uAcross2) / length;
  const first = edgeExtreme(context, -dx, -dy);
  const second = edgeExtreme(context, dx, dy);
  const foot = (e: EdgeExtreme): [number, number] => {
    const station = (e.x - x) * dx + (e.y - y) * dy;
    return [x + station * dx, y + station * dy];
  };
  // Turning the line changes the extent by how much farther from it one end lies than the other.
  const lever = (second.y - first.y) * dx - (second.x - first.x) * dy;
  return {
    ...ends('CH-BT', ...foot(first), ...foot(second)),
    uEnd1: first.u,
    uEnd2: second.u,
    uAcross1,
    uAcross2,
    uLength: uAngle === null ? null : Math.hypot(first.u ?? 0, second.u ?? 0, lever * uAngle),
    uAngle,
    stretches: [...stretchesAt(line.leadingT, line.trailingT), ...stretchesAt(first.t, second.t)],
    evidence: { depth, contact1X: x, contact1Y: y, contact2X: x2, contact2Y: y2 },
  };
}

/** True when a place lies within the end share of CH-FAR. */
function isAtEnd(context: SectionContext, x: number, y: number): boolean {
  const { far } = context;
  const dx = far.trailingX - far.leadingX;
  const dy = far.trailingY - far.leadingY;
  const part = ((x - far.leadingX) * dx + (y - far.leadingY) * dy) / (far.length * far.length);
  return Math.min(part, 1 - part) < END_SHARE;
}

export interface EdgeExtreme {
  t: number;
  x: number;
  y: number;
  value: number;
  /** Standard uncertainty of `value` (mm), null without noise. */
  u: number | null;
}

/** Returns the place farthest along a unit direction: of an edge's smooth nose where it has one, else of the outline. */
export function edgeExtreme(context: SectionContext, dx: number, dy: number): EdgeExtreme {
  const { contour, line, noise } = context;
  const found = extremeAlong(contour, dx, dy);
  for (const end of line ? [line.leading, line.trailing] : []) {
    if (!end.shape || parameterFrom(contour.outline, end.from, found.t) > end.to) continue;
    const point = supportOf(end.shape, dx, dy);
    const u = supportUncertainty(end.shape, dx, dy, dx, dy);
    if (point && u !== null) {
      const [x, y] = point;
      return { t: found.t, x, y, value: x * dx + y * dy, u };
    }
  }
  return { ...found, u: noise ? noise.at(found.t) : null };
}

function camberReference(context: SectionContext, extension: Extension): ReferenceChord | NoChord {
  const { leading, trailing } = context;
  const points = [leading, trailing].map((edge) => (edge ? camberPoint(context, edge, extension) : null));
  const [first, second] = points;
  if (!first || !second) {
    const reason = leading ? 'The line of centres is too short for an arc.' : 'No line of centres was found.';
    return { definition: 'CH-CAM', status: 'not-converged', reason, evidence: {} };
  }
  const chord = ends('CH-CAM', first.x, first.y, second.x, second.y);
  const [a, b] = [first, second].map((point) => turned(point, chord.dx, chord.dy));
  return {
    ...chord,
    ...uncertainties(a, b, chord.length),
    stretches: stretchesAt(first.t, second.t),
    evidence: {},
  };
}

/** Uncertainty of an edge point along and across a chord from that along and across the extension. */
function turned(point: CamberPoint, dx: number, dy: number): EndNoise {
  if (point.along === null || point.across === null) return { along: null, across: null };
  const cosine = point.outX * dx + point.outY * dy;
  const sine = point.outX * dy - point.outY * dx;
  return {
    along: Math.hypot(point.along * cosine, point.across * sine),
    across: Math.hypot(point.along * sine, point.across * cosine),
  };
}

function centresReference(context: SectionContext): ReferenceChord | NoChord {
  const { line, leading, trailing } = context;
  if (!line || !leading || !trailing)
    return { definition: 'CENTRES', status: 'not-converged', reason: 'No line of centres was found.', evidence: {} };
  const chord = ends('CENTRES', line.leading.x, line.leading.y, line.trailing.x, line.trailing.y);
  const [a, b] = [leading, trailing].map((edge) =>
    turned({ ...edge, t: edge.point, x: 0, y: 0, along: edge.end.u, across: edge.end.uAcross }, chord.dx, chord.dy),
  );
  return {
    ...chord,
    ...uncertainties(a, b, chord.length),
    stretches: stretchesAt(leading.point, trailing.point),
    evidence: {},
  };
}

function ends(definition: string, x1: number, y1: number, x2: number, y2: number) {
  const length = Math.hypot(x2 - x1, y2 - y1);
  return { definition, x1, y1, x2, y2, dx: (x2 - x1) / length, dy: (y2 - y1) / length, length };
}

function stretchesAt(leading: number, trailing: number): Stretch[] {
  return [
    [leading, leading, LEADING],
    [trailing, trailing, TRAILING],
  ];
}

interface EndNoise {
  along: number | null;
  across: number | null;
}

function uncertainties(first: EndNoise, second: EndNoise, length: number) {
  const across = both(first.across, second.across);
  return {
    uEnd1: first.along,
    uEnd2: second.along,
    uAcross1: first.across,
    uAcross2: second.across,
    uLength: both(first.along, second.along),
    uAngle: across === null ? null : across / length,
  };
}

function both(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : Math.hypot(a, b);
}
