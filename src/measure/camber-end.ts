import { type CircleFit, fitCircle } from '../math/circle-fit.ts';
import { fitFreeConic, fitNoseConic } from '../math/ellipse-fit.ts';
import type { EdgeShape, FittedOutline } from '../model/outline.ts';
import type { SweepEnd } from './camber-sweep.ts';
import { type Contour, contourAt, contourPoint, curvatureMaximum, parameterFrom } from './contour.ts';
import { arcPoints, type EdgeArc, edgeArc, noseBetween, placeSigma } from './edge-arc.ts';
import { type Inscribed, inscribedAt } from './inscribed-circle.ts';
import type { PositionNoise } from './position-noise.ts';

/** Circle at the end of the line of centres. */
export interface EndCircle {
  x: number;
  y: number;
  radius: number;
  kind: SweepEnd;
  /** Outline stretch beyond the last contacts, parameters rising. */
  from: number;
  to: number;
  /** Standard uncertainty of the centre (mm), null without noise. */
  u: number | null;
  /** … and that across the line of centres. */
  uAcross: number | null;
  /** Circle or conic that explains the points of a measured edge, null when none does. */
  shape: EdgeShape | null;
  /** True when the end is an arc of a circle: a cap of an exact outline, a circle that explains measured points. */
  isCircle: boolean;
  /** True when the edge of an exact outline is a conic to the last digits. */
  onConic: boolean;
  /** Outward direction of the axis of an elliptic edge with its standard uncertainty (rad), null where there is none. */
  axis: { x: number; y: number; u: number | null } | null;
}

/** A cap counts as a circle when a circle meets it within this share of its radius. */
const CAP = 1e-4;
/** The same of a conic, whose axis is then that of the edge, over one of these half angles of normal direction (degrees). */
const CONIC_CAP = 2e-7;
/** An edge this near to a circle ends in it; one this near to a conic has its axis, though not its end circle. */
const NEAR = 5e-3;
const CIRCLE_ANGLE = 70;
/** Share of the outline to either side of an edge point in which its nose is looked for. */
const AROUND = 0.02;
const CONIC_ANGLES = [85, 75, 60, 45];
/** Share of the arc left out at either end of a cap. */
const MARGIN = 0.08;
/** An end whose circle is so much larger than half the thickness there is flat. */
const BLUNT = 1.2;
/** Steps towards the circle that touches a flat end. */
const TOUCHING = 4;
const FREE = { firstLow: -Infinity, firstHigh: Infinity, secondLow: -Infinity, secondHigh: Infinity };
const RAD = Math.PI / 180;
const place = contourPoint();

/**
 * Returns the circle at which the line of centres ends. Sharp end: the corner, radius 0. Exact outline: the circle of a
 * circular cap. Flat end: the circle that touches the end. Other round end of an exact outline: the osculating circle at
 * the greatest curvature (Blum's medial axis). Round end of a measured outline: circle or conic through the edge points,
 * whichever the noise calls for.
 * @param last last circle of the sweep
 * @param way 1 at the trailing, −1 at the leading edge
 * @param dx,dy outward unit direction of the line of centres
 * @param edge parameter of the edge point
 */
export function endCircle(
  contour: Contour,
  last: Inscribed,
  way: 1 | -1,
  kind: SweepEnd,
  dx: number,
  dy: number,
  fitted: FittedOutline | undefined,
  noise: PositionNoise | null,
  edge: number,
): EndCircle {
  const { outline } = contour;
  const from = way > 0 ? last.first : last.second - outline.period;
  const to = way > 0 ? last.second : last.first;
  const end = (x: number, y: number, radius: number, u: number | null): EndCircle => {
    return { x, y, radius, kind, from, to, u, uAcross: u, shape: null, isCircle: false, onConic: false, axis: null };
  };
  const nose = noseBetween(contour, from, to, dx, dy);
  const u = noise ? noise.at(nose) : null;
  const cap = kind === 'sharp' || noise ? null : capCircle(contour, from, to);
  if (cap && cap.rms < CAP * cap.radius && Math.abs(cap.radius - last.radius) < 0.1 * last.radius)
    return { ...end(cap.x, cap.y, cap.radius, u), kind: 'round', isCircle: true };
  const round = kind === 'round' && !noise ? nearCircle(contour, edge, dx, dy) : null;
  if (round) {
    const { circle, arc } = round;
    return { ...end(circle.x, circle.y, circle.radius, null), from: arc.from, to: arc.to, isCircle: true };
  }
  if (kind === 'flat') return end(last.x, last.y, last.radius, u);
  if (kind === 'sharp') {
    let at = nose;
    for (const corner of outline.corners) {
      const t = parameterFrom(outline, from, corner);
      if (t < to) at = t;
    }
    contourAt(outline, at, place);
    return end(place.x, place.y, 0, u);
  }
  if (noise && fitted) {
    const shape = shapeAt(fitted, nose);
    const found = shape ? shapedEnd(shape) : noisyEnd(contour, nose, last, dx, dy, fitted, noise);
    if (found && found.radius > BLUNT * last.radius)
      return { ...end(0, 0, 0, null), ...bluntEnd(contour, nose, last, way, dx, dy, noise) };
    if (found) return { ...found, kind, from, to };
  }
  const conic = noise ? null : capConic(contour, nose, dx, dy);
  const axis = conic && { x: conic.outX, y: conic.outY, u: null };
  if (conic?.exact) return { ...end(conic.x, conic.y, conic.radius, null), onConic: true, axis };
  contourAt(outline, curvatureMaximum(contour, from, to), place);
  const radius = Math.min(1 / place.curvature, last.radius);
  return { ...end(place.x - radius * place.ty, place.y + radius * place.tx, radius, u), axis };
}

/** Returns the circle beyond the last one that touches both sides and the flat end at the nose. */
function bluntEnd(
  contour: Contour,
  nose: number,
  last: Inscribed,
  way: 1 | -1,
  dx: number,
  dy: number,
  noise: PositionNoise,
): Pick<EndCircle, 'x' | 'y' | 'radius' | 'kind' | 'u' | 'uAcross'> {
  contourAt(contour.outline, nose, place);
  const depth = (c: { x: number; y: number }) => (place.x - c.x) * dx + (place.y - c.y) * dy;
  let touching = last;
  for (let turn = 0; turn < TOUCHING; turn++) {
    const next = inscribedAt(contour.outline, touching, way * (depth(touching) - touching.radius), FREE);
    if (!next) break;
    touching = next;
  }
  const { x, y, radius, first, second, halfAngle } = touching;
  const contacts = 0.5 * Math.hypot(noise.at(first), noise.at(second));
  const u = Math.hypot(noise.at(nose), contacts);
  return { x, y, radius, kind: 'flat', u, uAcross: contacts / Math.sin(halfAngle) };
}

function capCircle(contour: Contour, from: number, to: number): CircleFit | null {
  const arc: EdgeArc = { from: from + MARGIN * (to - from), nose: from, to: to - MARGIN * (to - from) };
  const points = arcPoints(contour.outline, undefined, arc);
  return fitCircle(points.x, points.y, points.weights);
}

/**
 * The circle that an exact edge follows closely over ±70° of normal direction, null where it follows none. Where its
 * curvature is greatest is then chance: the line of centres ends at the circle's centre.
 */
function nearCircle(
  contour: Contour,
  edge: number,
  dx: number,
  dy: number,
): { circle: CircleFit; arc: EdgeArc } | null {
  const reach = AROUND * contour.outline.period;
  const nose = noseBetween(contour, edge - reach, edge + reach, dx, dy);
  const arc = edgeArc(contour, nose, dx, dy, CIRCLE_ANGLE * RAD);
  if (!arc) return null;
  const points = arcPoints(contour.outline, undefined, arc);
  const circle = fitCircle(points.x, points.y, points.weights);
  return circle && circle.rms <= NEAR * circle.radius ? { circle, arc } : null;
}

/** The conic of an exact elliptic edge, with its osculating circle at the nose; null where the edge is none. */
function capConic(contour: Contour, nose: number, dx: number, dy: number) {
  for (const angle of CONIC_ANGLES) {
    const arc = edgeArc(contour, nose, dx, dy, angle * RAD);
    if (!arc) continue;
    const points = arcPoints(contour.outline, undefined, arc);
    const found = fitFreeConic(points.x, points.y, points.weights, -dx, -dy);
    if (!found || found.rms > NEAR * found.radius) continue;
    const { noseX, noseY, axisX, axisY, radius } = found;
    const exact = found.rms <= CONIC_CAP * radius;
    return { x: noseX + radius * axisX, y: noseY + radius * axisY, radius, outX: -axisX, outY: -axisY, exact };
  }
  return null;
}

/** The shape whose arc holds a nose, or null. */
function shapeAt(fitted: FittedOutline, nose: number): EdgeShape | null {
  const { period } = fitted.outline;
  const holds = ({ from, to }: EdgeShape) => {
    const t = nose + period * Math.round((0.5 * (from + to) - nose) / period);
    return t > from && t < to;
  };
  return fitted.shapes.find(holds) ?? null;
}

/** Returns the end circle of an edge with a known shape: the circle itself, or a conic's osculating circle at its nose. */
export function shapedEnd(shape: EdgeShape): Omit<EndCircle, 'kind' | 'from' | 'to'> {
  const { noseX, noseY, outX, outY, radius, covariance } = shape;
  const turn = covariance[6] + 2 * radius * covariance[7] + radius * radius * covariance[12];
  return {
    x: noseX - radius * outX,
    y: noseY - radius * outY,
    radius,
    u: Math.sqrt(covariance[18]),
    uAcross: Math.sqrt(Math.max(0, shape.kind === 'circle' ? covariance[6] : turn)),
    shape,
    isCircle: shape.kind === 'circle',
    onConic: false,
    axis: shape.kind === 'conic' ? { x: outX, y: outY, u: Math.sqrt(covariance[12]) } : null,
  };
}

/**
 * End circle of a measured edge that no one shape explains: the circle, unless a conic does better than noise would make
 * it, both over ±60° of normal direction or less.
 */
function noisyEnd(
  contour: Contour,
  nose: number,
  last: Inscribed,
  dx: number,
  dy: number,
  fitted: FittedOutline,
  noise: PositionNoise,
): Omit<EndCircle, 'kind' | 'from' | 'to'> | null {
  const half = Math.max(30 * RAD, Math.min(60 * RAD, last.halfAngle));
  const arc = edgeArc(contour, nose, dx, dy, half);
  if (!arc) return null;
  const points = arcPoints(contour.outline, fitted, arc);
  const { x, y, weights } = points;
  const circle = fitCircle(x, y, weights);
  if (!circle) return null;
  const sigma = placeSigma(points, noise.sigma);
  const conic = fitNoseConic(x, y, weights, -dx, -dy);
  const gain = conic ? (x.length * (circle.rms ** 2 - conic.rms ** 2)) / (sigma * sigma) : 0;
  const asCircle = !conic || gain < 6;
  const across = asCircle
    ? dy * dy * circle.covariance[0] - 2 * dx * dy * circle.covariance[1] + dx * dx * circle.covariance[4]
    : conic.covariance[5];
  return {
    x: asCircle ? circle.x : conic.noseX - conic.radius * dx,
    y: asCircle ? circle.y : conic.noseY - conic.radius * dy,
    radius: asCircle ? circle.radius : conic.radius,
    u: sigma * Math.sqrt(asCircle ? circle.covariance[8] : conic.covariance[10]),
    uAcross: sigma * Math.sqrt(across),
    shape: null,
    isCircle: false,
    onConic: false,
    axis: null,
  };
}
