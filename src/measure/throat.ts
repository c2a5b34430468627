import { outlineFoot } from '../fit/outline-foot.ts';
import { measured, type Parameters, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint, parameterFrom } from './contour.ts';
import { cutThickness } from './cut-thickness.ts';
import { termsUncertainty } from './outline-terms.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

/** Where the next blade stands. */
export interface ThroatOptions {
  /** Distance of the blades along Y (mm); 0: taken from the number of blades and the radius. */
  pitch: number;
  blades: number;
  /** Radius of the section about the engine axis (mm). */
  radius: number;
  /** Which neighbour turns its suction side to this blade. */
  neighbour: 'pressure-side' | '+Y' | '-Y';
}

/** Shortest line from an edge of this blade to the suction side of the next. */
interface Gap {
  edge: EdgeContext;
  distance: number;
  /** Parameter on the edge and, on this outline before it is displaced, on the suction side. */
  from: number;
  foot: number;
  x1: number;
  y1: number;
  x2: number;
  y2: number;
  /** True where the passage narrows on beyond the edge zone. */
  atZoneEnd: boolean;
}

const DEFINITION = 'THROAT';
/** Set-back of the edge zone: share of CH-FAR, at least so many radii of the end circle. */
const ZONE_SHARE = 0.05;
const ZONE_RADII = 3;
const SCAN = 96;
const STEPS = 60;
const place = contourPoint();

/**
 * Returns the smallest distance from the edge of this blade to the suction side of the next, the same section displaced
 * along Y by the pitch (THROAT). It is virtual: the next blade is taken for a perfect copy. Of both edges the one nearer
 * to the suction side counts; not applicable where neither stands over it.
 */
export function throat(context: SectionContext, options: ThroatOptions): Value {
  const pitch =
    options.pitch > 0 ? options.pitch : options.blades > 1 ? (2 * Math.PI * options.radius) / options.blades : 0;
  const parameters: Parameters = { ...options };
  const none = (status: 'not-applicable' | 'not-converged', reason: string): Value =>
    unmeasured(status, reason, 'mm', DEFINITION, { parameters, evidence: { virtual: true } });
  if (!(pitch > 0))
    return none('not-applicable', 'The pitch is not known: give it, or the number of blades and the radius.');
  const { leading, trailing, noise, section } = context;
  if (!leading || !trailing) return none('not-converged', 'No line of centres was found.');
  const way = options.neighbour === 'pressure-side' ? awayFromSuction(context) : options.neighbour === '+Y' ? 1 : -1;
  const shift = way * pitch;
  const gaps = [leading, trailing].map((edge) => gapOf(context, edge, shift)).filter((gap) => gap !== null);
  if (gaps.length === 0)
    return none('not-applicable', 'The blades do not overlap: no edge stands over the suction side.');
  const gap = gaps.reduce((a, b) => (b.distance < a.distance ? b : a));
  if (!(gap.distance > 0)) return none('not-applicable', 'The blades touch at this pitch.');
  const missing = lacking(
    context,
    [
      [gap.from, gap.from, `the ${gap.edge.which} edge`],
      [gap.foot, gap.foot, 'the suction side'],
    ],
    'mm',
    DEFINITION,
  );
  if (missing) return { ...missing, parameters };
  const u = termsUncertainty(noise, section.outline, [
    { t: gap.from, gain: -1 },
    { t: gap.foot, gain: -1 },
  ]);
  const { x1, y1, x2, y2, atZoneEnd } = gap;
  return measured(gap.distance, u, 'mm', DEFINITION, {
    parameters,
    reason: 'Virtual: assumes a perfect neighbour.',
    evidence: { virtual: true, pitch, shift, leading: gap.edge.which === 'leading', atZoneEnd, x1, y1, x2, y2 },
  });
}

/** Sign along Y of the way from the suction side through the blade to the pressure side. */
function awayFromSuction(context: SectionContext): 1 | -1 {
  const { line, section, contour } = context;
  const circle = line?.circles[line.circles.length >> 1];
  if (!circle) return -1;
  contourAt(contour.outline, section.edges.firstSide === 'suction' ? circle.first : circle.second, place);
  return place.tx < 0 ? -1 : 1;
}

/** Shortest line from the zone of an edge to the displaced suction side, or null where it does not end there. */
function gapOf(context: SectionContext, edge: EdgeContext, shift: number): Gap | null {
  const { outline } = context.contour;
  const zone = edgeZone(context, edge);
  if (!zone) return null;
  const [from, to] = zone;
  const footOf = (t: number) => {
    contourAt(outline, t, place);
    return outlineFoot(outline, place.x, place.y - shift);
  };
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= SCAN; k++) {
    const { distance } = footOf(from + ((to - from) * k) / SCAN);
    if (distance < least) [least, best] = [distance, k];
  }
  let low = from + ((to - from) * Math.max(0, best - 1)) / SCAN;
  let high = from + ((to - from) * Math.min(SCAN, best + 1)) / SCAN;
  for (let step = 0; step < STEPS; step++) {
    const middle = 0.5 * (low + high);
    const foot = footOf(middle);
    // The distance falls along the outline while its tangent leans towards the foot.
    if ((foot.x - place.x) * place.tx + (foot.y + shift - place.y) * place.ty > 0) low = middle;
    else high = middle;
  }
  const t = edge.end.kind === 'sharp' ? edge.nose : 0.5 * (low + high);
  const foot = footOf(t);
  contourAt(outline, t, place);
  if (!isOnSuction(context, foot.t)) return null;
  const { x, y } = place;
  return {
    edge,
    distance: foot.distance,
    from: t,
    foot: foot.t,
    x1: x,
    y1: y,
    x2: foot.x,
    y2: foot.y + shift,
    atZoneEnd: best === 0 || best === SCAN,
  };
}

/** Stretch of the outline within the set-back of an edge zone from the end of CH-FAR. */
function edgeZone(context: SectionContext, edge: EdgeContext): [number, number] | null {
  const { far, contour } = context;
  const sign = (edge.which === 'leading' ? 1 : -1) / far.length;
  const dx = sign * (far.trailingX - far.leadingX);
  const dy = sign * (far.trailingY - far.leadingY);
  const end = edge.which === 'leading' ? far.leadingT : far.trailingT;
  const setback = Math.max(ZONE_SHARE * far.length, ZONE_RADII * edge.end.radius);
  const cut = cutThickness(contour, end, dx, dy, setback);
  return cut ? [cut.before, cut.after] : null;
}

/** True for a place of the suction side outside both edges. */
function isOnSuction(context: SectionContext, t: number): boolean {
  const { section, leading, trailing, contour } = context;
  if (!leading || !trailing) return false;
  const [start, end] =
    section.edges.firstSide === 'suction' ? [leading.end.to, trailing.end.from] : [trailing.end.to, leading.end.from];
  const { outline } = contour;
  return parameterFrom(outline, start, t) < parameterFrom(outline, start, end);
}
