import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { cutAtStation } from './cut-thickness.ts';
import { camberPlace, camberPlaceAtStation } from './edge-camber-place.ts';
import { contactsOf } from './edge-inscribed.ts';
import { referenceChord } from './reference-chord.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

/** How the thickness near an edge is cut: across the chord, across the line of centres, or the inscribed circle there. */
export type EdgeCut = 'T-ORD' | 'T-CAM' | 'T-MIC';

/** Where the set-back starts and what it is measured along. */
export interface SetbackRule {
  /** End of the longest chord, edge point of the camber line, or place farthest along the camber line. */
  from: 'CH-FAR' | 'EP-CAM' | 'nose';
  along: 'chord' | 'camber';
}

/** A cut with what its uncertainty needs. */
interface Section {
  thickness: number;
  before: number;
  after: number;
  /** Cosines between the cut and the normals at both contacts. */
  leanBefore: number;
  leanAfter: number;
  centre: { centreX: number; centreY: number } | null;
}

interface Origin {
  t: number;
  x: number;
  y: number;
}

const NO_LINE = 'No line of centres was found.';
const place = contourPoint();

/**
 * Returns the thickness at a set-back from an edge. T-ORD is cut normal to CH-FAR, T-CAM normal to the line of centres,
 * T-MIC is the diameter of the inscribed circle centred at the set-back.
 * @param setback distance along the chord, or length along the line of centres and its straight extension (mm)
 */
export function edgeThickness(
  context: SectionContext,
  which: 'leading' | 'trailing',
  setback: number,
  cut: EdgeCut,
  rule: SetbackRule,
): Value {
  const parameters = { setback, ...rule };
  const edge = context[which];
  const needsLine = cut !== 'T-ORD' || rule.along === 'camber' || rule.from !== 'CH-FAR';
  if (needsLine && !edge) return unmeasured('not-converged', NO_LINE, 'mm', cut, { parameters });
  const origin = originOf(context, which, edge, rule.from);
  const found = setback <= 0.5 * context.far.length ? cutFrom(context, which, edge, origin, setback, cut, rule) : null;
  if (!found) {
    const why =
      cut === 'T-MIC'
        ? 'No inscribed circle is centred at the set-back.'
        : 'The section is too short for the set-back.';
    return unmeasured('not-applicable', why, 'mm', cut, { parameters });
  }
  const { noise } = context;
  const name = `the ${which} edge`;
  const missing = lacking(
    context,
    [
      [origin.t, origin.t, name],
      [found.before, found.before, `${setback} mm from ${name}`],
      [found.after, found.after, `${setback} mm from ${name}`],
    ],
    'mm',
    cut,
  );
  if (missing) return { ...missing, parameters };
  let u: number | null = null;
  if (noise) {
    const step = 0.01 * setback;
    const deeper = cutFrom(context, which, edge, origin, setback + step, cut, rule);
    const rate = deeper ? (deeper.thickness - found.thickness) / step : 0;
    const start = rule.from === 'CH-FAR' ? chordEnd(context, which) : noise.at(origin.t);
    u = Math.hypot(noise.at(found.before) / found.leanBefore, noise.at(found.after) / found.leanAfter, rate * start);
  }
  return measured(found.thickness, u, 'mm', cut, {
    parameters,
    evidence: { ...contactsOf(context, found.before, found.after), ...found.centre },
  });
}

/** Standard uncertainty (mm) of an end of the longest chord along it. */
function chordEnd(context: SectionContext, which: 'leading' | 'trailing'): number {
  const chord = referenceChord(context, 'CH-FAR');
  if ('reason' in chord) return 0;
  return (which === 'leading' ? chord.uEnd1 : chord.uEnd2) ?? 0;
}

function originOf(
  context: SectionContext,
  which: 'leading' | 'trailing',
  edge: EdgeContext | null,
  from: SetbackRule['from'],
): Origin {
  const { far } = context;
  if (!edge || from === 'CH-FAR')
    return which === 'leading'
      ? { t: far.leadingT, x: far.leadingX, y: far.leadingY }
      : { t: far.trailingT, x: far.trailingX, y: far.trailingY };
  if (from === 'EP-CAM') return { t: edge.point, x: edge.pointX, y: edge.pointY };
  contourAt(context.section.outline, edge.nose, place);
  return { t: edge.nose, x: place.x, y: place.y };
}

function cutFrom(
  context: SectionContext,
  which: 'leading' | 'trailing',
  edge: EdgeContext | null,
  origin: Origin,
  setback: number,
  cut: EdgeCut,
  rule: SetbackRule,
): Section | null {
  const { far } = context;
  const sign = (which === 'leading' ? 1 : -1) / far.length;
  const dx = sign * (far.trailingX - far.leadingX);
  const dy = sign * (far.trailingY - far.leadingY);
  const station = origin.x * dx + origin.y * dy + setback;
  if (cut === 'T-ORD' && rule.along === 'chord') return straightCut(context, origin.t, dx, dy, station);
  if (!edge) return null;
  const reach = (origin.x - edge.end.x) * edge.outX + (origin.y - edge.end.y) * edge.outY;
  const centre =
    rule.along === 'camber'
      ? camberPlace(context, edge, setback - reach)
      : camberPlaceAtStation(context, edge, dx, dy, station);
  if (!centre) return null;
  if (cut === 'T-ORD') return straightCut(context, origin.t, dx, dy, centre.x * dx + centre.y * dy);
  if (cut === 'T-CAM')
    return straightCut(context, origin.t, centre.dx, centre.dy, centre.x * centre.dx + centre.y * centre.dy);
  if (!centre.circle) return null;
  const { first, second, radius } = centre.circle;
  const [before, after] = which === 'leading' ? [second, first] : [first, second];
  return {
    thickness: 2 * radius,
    before,
    after,
    leanBefore: 1,
    leanAfter: 1,
    centre: { centreX: centre.x, centreY: centre.y },
  };
}

function straightCut(context: SectionContext, end: number, dx: number, dy: number, station: number): Section | null {
  const cut = cutAtStation(context.contour, end, dx, dy, station);
  if (!cut) return null;
  const lean = (t: number): number => {
    contourAt(context.section.outline, t, place);
    return Math.abs(place.tx * dx + place.ty * dy);
  };
  return { ...cut, leanBefore: lean(cut.before), leanAfter: lean(cut.after), centre: null };
}
