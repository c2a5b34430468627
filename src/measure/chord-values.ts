import { measured, unmeasured, type Value } from '../model/value.ts';
import { bitangent } from './chord-bitangent.ts';
import { contourAt, contourPoint } from './contour.ts';
import { supportUncertainty } from './shape-support.ts';
import { extremeAlong } from './extreme.ts';
import { edgePointAcross } from './measure-edge.ts';
import { contactUncertainty } from './position-noise.ts';
import { lacking, type SectionContext } from './section-context.ts';

/** A chord's length and its angle from +X, leading to trailing edge. */
export interface ChordValues {
  length: Value;
  stagger: Value;
}

const DEG = 180 / Math.PI;
/** A contact of CH-BT farther than this share of CH-FAR from its end touches a flank. */
const END_SHARE = 0.15;
const LEADING = 'the leading edge';
const TRAILING = 'the trailing edge';

/** Returns the longest chord CH-FAR. */
export function farChordValues(context: SectionContext): ChordValues {
  const { far, noise } = context;
  const ends = noise ? (['leading', 'trailing'] as const).map((which) => endUncertainty(context, which)) : null;
  const u = ends ? Math.hypot(ends[0].along, ends[1].along) : null;
  const across = ends ? Math.hypot(ends[0].across, ends[1].across) : null;
  const angle = Math.atan2(far.trailingY - far.leadingY, far.trailingX - far.leadingX);
  return pair(context, 'CH-FAR', far.leadingT, far.trailingT, far.length, u, angle, across);
}

/** Standard uncertainty (mm) of an end of CH-FAR along and across it: of the edge's smooth nose, else of the outline. */
function endUncertainty(context: SectionContext, which: 'leading' | 'trailing'): { along: number; across: number } {
  const { noise, section, far, line } = context;
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
  if (!noise) return { along: 0, across: 0 };
  const place = contourPoint();
  contourAt(section.outline, t, place);
  return { along: noise.at(t), across: place.curvature > 0 ? noise.direction(t) / place.curvature : 0 };
}

/** Returns the chord on the concave side CH-BT; not applicable on biconvex sections and where that side is flat. */
export function bitangentValues(context: SectionContext): ChordValues {
  const { far, contour, noise, options } = context;
  const line = bitangent(
    contour,
    (far.trailingX - far.leadingX) / far.length,
    (far.trailingY - far.leadingY) / far.length,
  );
  const none = (reason: string, evidence: Record<string, number | boolean>): ChordValues => ({
    length: unmeasured('not-applicable', reason, 'mm', 'CH-BT', { evidence }),
    stagger: unmeasured('not-applicable', reason, 'deg', 'CH-BT', { evidence }),
  });
  if (!line) return none('The section has no concave side for a line to rest on.', { flat: false });
  const u = contactUncertainty(noise, line.leadingT, line.trailingT);
  const least = Math.max(options.leastConcavity * far.length, u === null ? 0 : 3 * u);
  if (line.depth < least)
    return none('The side is flat: a line rests on the flank, not on the edges.', { flat: true, depth: line.depth });
  if (!atEnd(context, line.leadingT) || !atEnd(context, line.trailingT))
    return none('The line touches a flank, not an edge.', { flat: false, depth: line.depth });
  const angle = Math.atan2(line.directionY, line.directionX);
  return pair(context, 'CH-BT', line.leadingT, line.trailingT, line.length, u, angle, u, { depth: line.depth });
}

/** True when a contact lies within the end share of CH-FAR. */
function atEnd(context: SectionContext, t: number): boolean {
  const { far, section } = context;
  const place = contourPoint();
  contourAt(section.outline, t, place);
  const dx = far.trailingX - far.leadingX;
  const dy = far.trailingY - far.leadingY;
  const part = ((place.x - far.leadingX) * dx + (place.y - far.leadingY) * dy) / (far.length * far.length);
  return Math.min(part, 1 - part) < END_SHARE;
}

/** Returns the extent along X, CH-AX. */
export function axialChord(context: SectionContext): Value {
  const right = extremeAlong(context.contour, 1, 0);
  const left = extremeAlong(context.contour, -1, 0);
  const missing = lacking(
    context,
    [
      [right.t, right.t, 'the largest x'],
      [left.t, left.t, 'the smallest x'],
    ],
    'mm',
    'CH-AX',
  );
  if (missing) return missing;
  return measured(right.value + left.value, contactUncertainty(context.noise, right.t, left.t), 'mm', 'CH-AX');
}

/** Returns the chord between the edge points EP-CAM, CH-CAM. */
export function camberChordValues(context: SectionContext): ChordValues {
  const { leading, trailing, noise } = context;
  if (!leading || !trailing) {
    const reason = 'No line of centres was found.';
    return {
      length: unmeasured('not-converged', reason, 'mm', 'CH-CAM'),
      stagger: unmeasured('not-converged', reason, 'deg', 'CH-CAM'),
    };
  }
  const dx = trailing.pointX - leading.pointX;
  const dy = trailing.pointY - leading.pointY;
  const length = Math.hypot(dx, dy);
  const acrossL = edgePointAcross(leading);
  const acrossT = edgePointAcross(trailing);
  const across = acrossL === null || acrossT === null ? null : Math.hypot(acrossL, acrossT);
  const tilt = (edge: { outX: number; outY: number }) => Math.abs(edge.outX * dy - edge.outY * dx) / length;
  const u = contactUncertainty(noise, leading.point, trailing.point);
  const full =
    u === null || acrossL === null || acrossT === null
      ? null
      : Math.hypot(u, tilt(leading) * acrossL, tilt(trailing) * acrossT);
  return pair(context, 'CH-CAM', leading.point, trailing.point, length, full, Math.atan2(dy, dx), across, undefined, {
    extension: 'straight',
  });
}

function pair(
  context: SectionContext,
  definition: string,
  leadingT: number,
  trailingT: number,
  length: number,
  u: number | null,
  angle: number,
  across: number | null,
  evidence: Record<string, number> = {},
  parameters: Record<string, string> = {},
): ChordValues {
  const ends: [number, number, string][] = [
    [leadingT, leadingT, LEADING],
    [trailingT, trailingT, TRAILING],
  ];
  const missing = lacking(context, ends, 'mm', definition);
  if (missing) return { length: missing, stagger: { ...missing, unit: 'deg' } };
  const extras = { parameters, evidence };
  const uAngle = across === null ? null : (across / length) * DEG;
  const stagger = measured(angle * DEG, uAngle, 'deg', definition, {
    parameters: { ...parameters, from: '+X' },
    evidence,
  });
  return { length: measured(length, u, 'mm', definition, extras), stagger };
}
