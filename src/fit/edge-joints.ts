import { conicDistance, conicFoot } from '../math/ellipse-fit.ts';
import type { EdgeShape } from '../model/outline.ts';
import type { EdgePlaces } from './edge-places.ts';

/** Places beyond the joint that are looked at, at least and at most, and the growth of their number. */
const FEWEST = 6;
const MOST = 80;
const GROWTH = 1.3;
/** What lies beyond turns by this much (rad) at most as it is looked at. */
const MOST_TURN = 0.35;
/** Share of the arc before its end in which the joint may lie. */
const BEFORE = 0.12;
/** Steps of the search over all, and the share of it to which parabolas then narrow the best. */
const STEPS = 40;
const FINEST = 1e-5;
/** A joint less sure than this share of the arc's radius is not determined. */
const MOST_U = 0.5;
/** What lies beyond may misfit by as much as noise does once in some hundred times. */
const UNUSUAL = 2.5;

/** The curve of a shape: across² = 2 · radius · along − e · along² from its nose. */
type ShapeCurve = Pick<EdgeShape, 'noseX' | 'noseY' | 'outX' | 'outY' | 'radius' | 'e'>;

/** The same with the covariance of its parameters for unit variance of a point. */
type KnownCurve = ShapeCurve & Pick<EdgeShape, 'covariance'>;

/** Where an outline leaves a shape: arc length from the first place, and its standard uncertainty (mm). */
export interface Joint {
  at: number;
  u: number;
}

/** Places about the end of an arc, outward; the first `inside` of them on the arc. */
interface Stretch {
  x: number[];
  y: number[];
  weight: number[];
  inside: number;
}

/**
 * Returns the place at which an outline leaves a shape with a jump of curvature: along the shape up to the joint, beyond it
 * along a cubic that begins with the shape's direction; least squares over the place of the joint. As many places beyond
 * are taken as such a cubic explains. The uncertainty is half the width over which the squares stay within one variance of
 * the least, what the doubt of the shape itself changes, and what the last places taken changed. Null where there are too
 * few places or the place is not determined.
 * @param end index of the last place on the arc; `way` 1 or −1 leads outward
 * @param first index of the first place on the arc
 * @param sigma standard deviation of a point (mm)
 */
export function jointAt(
  places: EdgePlaces,
  shape: KnownCurve,
  first: number,
  end: number,
  way: 1 | -1,
  sigma: number,
): Joint | null {
  const stretch = stretchAbout(places, first, end, way);
  const inside = angleOf(shape, stretch.x[0], stretch.y[0]);
  const found: Found[] = [];
  for (let beyond = FEWEST; stretch.inside + Math.round(beyond) <= stretch.x.length; beyond *= GROWTH) {
    const next = search(stretch, stretch.inside + Math.round(beyond), shape, inside, way, sigma);
    if (next === 'misfit') break;
    if (!next) continue;
    found.push(next);
  }
  if (found.length === 0) return null;
  const joint = found[Math.max(0, found.length - 2)];
  const change = Math.max(...found.slice(-3).map(({ angle }) => Math.abs(angle - joint.angle)));
  const start = angleOf(shape, places.x[end], places.y[end]);
  const middle = 0.5 * (start + joint.angle);
  const mean = (bendRadius(shape, start) + 4 * bendRadius(shape, middle) + bendRadius(shape, joint.angle)) / 6;
  const own = Math.hypot(joint.u, shapeDoubt(stretch, shape, joint, places.x[end], places.y[end], way, sigma));
  const u = Math.hypot(own, change) * bendRadius(shape, joint.angle);
  return u < MOST_U * shape.radius ? { at: places.length[end] + mean * (joint.angle - start), u } : null;
}

/** Joint of least squares: angle of the shape's normal and its standard uncertainty for a given shape (rad). */
interface Found {
  angle: number;
  u: number;
  /** Places it stands on. */
  count: number;
}

function bendRadius({ radius, e }: ShapeCurve, angle: number): number {
  return radius / (Math.cos(angle) ** 2 + e * Math.sin(angle) ** 2) ** 1.5;
}

/** Standard uncertainty of the joint's angle, less that of a place on the arc, by the parameters of the shape. */
function shapeDoubt(
  stretch: Stretch,
  shape: KnownCurve,
  { angle, u, count }: Found,
  x: number,
  y: number,
  way: 1 | -1,
  sigma: number,
): number {
  const cost = (curve: ShapeCurve, turn: number) => misfit(stretch, count, curve, angle + turn, way).cost;
  const gains = Array.from({ length: 5 }, (_, k) => {
    const size = sigma * Math.sqrt(shape.covariance[6 * k]);
    if (!(size > 0)) return 0;
    const [more, less] = [moved(shape, k, size), moved(shape, k, -size)];
    const slopes = [more, less].map((curve) => cost(curve, u) - cost(curve, -u));
    // The squares rise by one variance over u, so that their second derivative is 2 (sigma / u)².
    const shift = (-(slopes[0] - slopes[1]) * u) / (8 * sigma * sigma);
    return (shift - 0.5 * (angleOf(more, x, y) - angleOf(less, x, y))) / size;
  });
  let variance = 0;
  for (let i = 0; i < 5; i++)
    for (let j = 0; j < 5; j++) variance += gains[i] * gains[j] * sigma * sigma * shape.covariance[5 * i + j];
  return Math.sqrt(Math.max(0, variance));
}

/** A shape with one of its parameters changed, in the order of its covariance. */
function moved(shape: ShapeCurve, parameter: number, by: number): ShapeCurve {
  const { noseX, noseY, outX, outY, radius, e } = shape;
  if (parameter === 0) return { ...shape, noseX: noseX - by * outX, noseY: noseY - by * outY };
  if (parameter === 1) return { ...shape, noseX: noseX + by * outY, noseY: noseY - by * outX };
  if (parameter === 3) return { ...shape, radius: radius + by };
  if (parameter === 4) return { ...shape, e: e + by };
  const [c, s] = [Math.cos(by), Math.sin(by)];
  return { ...shape, outX: c * outX - s * outY, outY: s * outX + c * outY };
}

function stretchAbout({ x, y, weight }: EdgePlaces, first: number, end: number, way: 1 | -1): Stretch {
  const inside = Math.ceil(BEFORE * (Math.abs(end - first) + 1)) + 1;
  const indices: number[] = [];
  for (let j = 1 - inside; j <= MOST; j++) {
    const k = end + way * j;
    if (k >= 0 && k < x.length) indices.push(k);
  }
  const pick = (list: Float64Array) => indices.map((k) => list[k]);
  return { x: pick(x), y: pick(y), weight: pick(weight), inside };
}

/** Angle from the axis of the shape's normal at the foot of a point (rad, counter-clockwise). */
function angleOf({ noseX, noseY, outX, outY, radius, e }: ShapeCurve, x: number, y: number): number {
  const dx = x - noseX;
  const dy = y - noseY;
  const foot = conicFoot(-dx * outX - dy * outY, dx * outY - dy * outX, radius, e);
  return Math.atan2(-foot[1], radius - e * foot[0]);
}

/** Angle of the joint of least squares over the first `count` places; null where it is not determined. */
function search(
  stretch: Stretch,
  count: number,
  shape: ShapeCurve,
  inside: number,
  way: 1 | -1,
  sigma: number,
): Found | null | 'misfit' {
  const cost = (turn: number) => misfit(stretch, count, shape, inside + way * turn, way);
  const outermost = stretch.inside + ((count - stretch.inside) >> 1);
  const most = way * (angleOf(shape, stretch.x[outermost], stretch.y[outermost]) - inside);
  if (!(most > 0)) return null;
  let best = { at: 0, cost: Number.POSITIVE_INFINITY, slope: 0 };
  const consider = (at: number): number => {
    const found = cost(at);
    if (found.cost < best.cost) best = { at, ...found };
    return found.cost;
  };
  for (let k = 0; k <= STEPS; k++) consider((most * k) / STEPS);
  for (let step = most / STEPS; step > FINEST * most; step *= 0.25) {
    const { at, cost: middle } = best;
    const [less, more] = [consider(Math.max(0, at - step)), consider(Math.min(most, at + step))];
    const bend = less - 2 * middle + more;
    if (bend > 0) consider(Math.max(0, Math.min(most, at + (0.5 * step * (less - more)) / bend)));
  }
  const free = count - 3;
  const variance = sigma * sigma;
  if (best.cost > variance * (free + UNUSUAL * Math.sqrt(2 * free))) return 'misfit';
  if (best.slope > MOST_TURN) return null;
  const limit = best.cost + variance;
  const rises = (at: number) => cost(at).cost > limit;
  const widths = [crossing(rises, best.at, 0), crossing(rises, best.at, most)];
  if (widths[0] === null || widths[1] === null) return null;
  return { angle: inside + way * best.at, u: 0.5 * (widths[0] + widths[1]), count };
}

/** Distance from a place to where a condition first holds towards a bound, null where it does not hold at the bound. */
function crossing(holds: (at: number) => boolean, from: number, bound: number): number | null {
  if (!holds(bound)) return null;
  let [near, far] = [from, bound];
  for (let turn = 0; turn < 30; turn++) {
    const middle = 0.5 * (near + far);
    if (holds(middle)) far = middle;
    else near = middle;
  }
  return Math.abs(far - from);
}

/** Weighted squares left by the shape up to a joint and the best cubic beyond, and the cubic's slope at the last place. */
function misfit(
  { x, y, weight }: Stretch,
  count: number,
  { noseX, noseY, outX, outY, radius, e }: ShapeCurve,
  angle: number,
  way: 1 | -1,
): { cost: number; slope: number } {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const size = radius / Math.sqrt(c * c + e * s * s);
  const across = size * s;
  const along = (across * across) / (radius + size * c);
  const px = noseX - along * outX - across * outY;
  const py = noseY - along * outY + across * outX;
  const nx = c * outX - s * outY;
  const ny = c * outY + s * outX;
  let [qq, qc, cc, qd, cd, dd, last] = [0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i < count; i++) {
    const past = way * ((x[i] - px) * -ny + (y[i] - py) * nx);
    if (past <= 0) {
      const dx = x[i] - noseX;
      const dy = y[i] - noseY;
      const off = conicDistance(-dx * outX - dy * outY, dx * outY - dy * outX, radius, e) ?? 0;
      dd += weight[i] * off * off;
      continue;
    }
    const d = (x[i] - px) * nx + (y[i] - py) * ny;
    const q = past * past;
    const cube = q * past;
    qq += weight[i] * q * q;
    qc += weight[i] * q * cube;
    cc += weight[i] * cube * cube;
    qd += weight[i] * q * d;
    cd += weight[i] * cube * d;
    dd += weight[i] * d * d;
    last = past;
  }
  const det = qq * cc - qc * qc;
  if (!(det > 1e-12 * qq * cc)) return { cost: dd, slope: 0 };
  const a = (qd * cc - qc * cd) / det;
  const b = (qq * cd - qc * qd) / det;
  return { cost: dd - a * qd - b * cd, slope: Math.abs(2 * a * last + 3 * b * last * last) };
}
