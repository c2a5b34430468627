import type { EdgeShape } from '../model/outline.ts';
import { type EndCircle, shapedEnd } from './camber-end.ts';
import { type CamberHeading, camberHeading, type HeadingData } from './camber-heading.ts';
import type { Inscribed } from './inscribed-circle.ts';
import { supportOf } from './shape-support.ts';

/** Share of an ellipse's half axis from which on its arc is taken to end at the short axis. */
const TO_AXIS = 0.7;
/** Uncertainty (in nose radii) of a place that is to carry no weight. */
const UNKNOWN = 10;

/** The direction of the line of centres with the end circles that agree with it. */
export interface SettledAxes {
  heading: CamberHeading | null;
  leading: EndCircle;
  trailing: EndCircle;
}

/**
 * Returns the direction of the line of centres and the ends settled with it. Within an elliptic edge the line is straight
 * along the edge's axis: the smooth direction of the line behind the edge, where it joins it, and the axis are two
 * readings of one angle. Of an exact outline the axis is taken; on a measured one the smooth direction corrects the
 * edge's conic by its covariance (one step of linear estimation, Kalman 1960), and the corrected axis is the direction.
 * @param gather centres of circles and both ends as data for the smooth direction
 */
export function settleAxes(
  steady: Inscribed[],
  leading: EndCircle,
  trailing: EndCircle,
  gather: (circles: Inscribed[], ends: [EndCircle, EndCircle]) => HeadingData,
  noisy: boolean,
): SettledAxes {
  const whole = camberHeading(gather(steady, [leading, trailing]));
  if (!whole || (!leading.axis && !trailing.axis)) return { heading: whole, leading, trailing };
  const between = steady.filter((c) => !isWithin(leading, c) && !isWithin(trailing, c));
  const joined = noisy ? camberHeading(gather(between, [joinedAt(leading), joinedAt(trailing)])) : null;
  const smooth = joined ?? whole;
  const bend = Math.abs(smooth.leading - smooth.trailing) / Math.max(1e-12, lengthOf(steady));
  const first = settledEnd(leading, smooth.leading + Math.PI, joined?.uLeading ?? null, bend);
  const last = settledEnd(trailing, smooth.trailing, joined?.uTrailing ?? null, bend);
  const from = first.axis ? near(first.direction - Math.PI, smooth.leading) : smooth.leading;
  const to = last.axis ? near(last.direction, smooth.trailing) : smooth.trailing;
  const uLeading = first.axis ? first.axis.u : smooth.uLeading;
  const uTrailing = last.axis ? last.axis.u : smooth.uTrailing;
  const apart = uLeading === null || uTrailing === null ? null : Math.hypot(uLeading, uTrailing);
  const bothEnds = leading.axis && trailing.axis;
  const uDifference = bothEnds ? apart : Math.max(apart ?? 0, smooth.uDifference ?? 0);
  const heading = { ...smooth, leading: from, trailing: to, uLeading, uTrailing, uDifference };
  return { heading, leading: first.end, trailing: last.end };
}

function lengthOf(steady: Inscribed[]): number {
  let length = 0;
  for (let i = 1; i < steady.length; i++)
    length += Math.hypot(steady[i].x - steady[i - 1].x, steady[i].y - steady[i - 1].y);
  return length;
}

/** An angle moved by whole turns next to another. */
function near(angle: number, to: number): number {
  return angle + 2 * Math.PI * Math.round((to - angle) / (2 * Math.PI));
}

/**
 * An end with its axis corrected by an outward direction of standard uncertainty `u` (rad), to which the doubt of where
 * the line joins the edge adds by the line's bend. An end without axis stays.
 */
function settledEnd(
  end: EndCircle,
  outward: number,
  u: number | null,
  bend: number,
): { end: EndCircle; axis: EndCircle['axis']; direction: number } {
  const { shape, axis } = end;
  if (!axis) return { end, axis, direction: outward };
  const own = Math.atan2(axis.y, axis.x);
  if (!shape || u === null) return { end, axis, direction: own };
  const settled = withTurn(shape, near(outward, own) - own, u * u + (bend * depthUncertainty(shape)) ** 2);
  const found = { ...end, ...shapedEnd(settled) };
  return { end: found, axis: found.axis, direction: Math.atan2(settled.outY, settled.outX) };
}

/** The shape corrected by a reading of its axis's turn (rad) with a variance. */
function withTurn(shape: EdgeShape, turn: number, variance: number): EdgeShape {
  const { covariance: c, outX, outY } = shape;
  const gain = [0, 1, 2, 3, 4].map((k) => c[5 * k + 2] / (c[12] + variance));
  const [along, across, turned, radius, e] = gain.map((g) => g * turn);
  const [cos, sin] = [Math.cos(turned), Math.sin(turned)];
  return {
    ...shape,
    noseX: shape.noseX - along * outX + across * outY,
    noseY: shape.noseY - along * outY - across * outX,
    outX: cos * outX - sin * outY,
    outY: cos * outY + sin * outX,
    radius: shape.radius + radius,
    e: shape.e + e,
    angleFrom: shape.angleFrom - turned,
    angleTo: shape.angleTo - turned,
    covariance: c.map((value, i) => value - gain[Math.floor(i / 5)] * c[10 + (i % 5)]),
  };
}

/** Standard uncertainty (mm) of an ellipse's half axis along, 0 for an open conic. */
function depthUncertainty({ radius, e, covariance }: EdgeShape): number {
  if (!(e > 0)) return 0;
  const [byRadius, byE] = [1 / e, -radius / (e * e)];
  const variance =
    byRadius * byRadius * covariance[18] + 2 * byRadius * byE * covariance[19] + byE * byE * covariance[24];
  return Math.sqrt(Math.max(0, variance));
}

/** True when a circle touches within an elliptic edge's own arc. */
function isWithin({ shape, axis }: EndCircle, c: Inscribed): boolean {
  if (!shape || !axis) return false;
  const depth = -(c.x - shape.noseX) * shape.outX - (c.y - shape.noseY) * shape.outY;
  return depth < depthOf(shape);
}

/**
 * The end of the line behind an elliptic edge: on its axis, abreast of the ends of its arc. It marks the place only; its
 * weight is next to nothing, as the conic must not confirm itself.
 */
function joinedAt(end: EndCircle): EndCircle {
  const { shape, axis } = end;
  if (!shape || !axis) return end;
  const depth = depthOf(shape);
  const { noseX, noseY, outX, outY, radius } = shape;
  return { ...end, x: noseX - depth * outX, y: noseY - depth * outY, uAcross: UNKNOWN * radius };
}

/**
 * Depth (mm) from the nose at which a conic edge ends: the short axis of an ellipse whose arc reaches most of the way to
 * it, else the end of the longer side of the arc.
 */
function depthOf(shape: EdgeShape): number {
  const along = arcDepth(shape);
  const axis = shape.e > 0 ? shape.radius / shape.e : Number.POSITIVE_INFINITY;
  return along > TO_AXIS * axis ? axis : along;
}

function arcDepth(shape: EdgeShape): number {
  const angle = Math.max(-shape.angleFrom, shape.angleTo);
  const direction = Math.atan2(shape.outY, shape.outX) + (angle === shape.angleTo ? 1 : -1) * angle * (1 - 1e-9);
  const point = supportOf(shape, Math.cos(direction), Math.sin(direction));
  return point ? -(point[0] - shape.noseX) * shape.outX - (point[1] - shape.noseY) * shape.outY : 0;
}
