import { contourAt, contourPoint } from './contour.ts';
import type { PositionNoise } from './position-noise.ts';
import type { SectionContext } from './section-context.ts';

/** The stretch over which an outline turns a given angle in the least length. */
export interface SharpestTurn {
  /** Its middle. */
  t: number;
  /** Its length over the angle (mm): the mean radius of curvature. */
  radius: number;
  /** Standard uncertainty of the radius (mm), null without noise. */
  u: number | null;
  /** First and last middle at which the radius may be the least, and the turn (rad) between them. */
  from: number;
  to: number;
  alike: number;
}

/** Turn of the tangent (rad) and length (mm) of an outline from the first of many places, even in parameter. */
export interface Turn {
  turned: Float64Array;
  length: Float64Array;
  /** Parameter from place to place. */
  step: number;
}

const PLACES = 1200;
/** Radii of an exact outline within this share of the least count as equal: a spline rings where curvature jumps. */
const EQUAL = 5e-3;
/** The least radius may lie where it is this many uncertainties greater. */
const SURE = 3;
const place = contourPoint();

/**
 * Returns the sharpest turn of a smooth stretch, or null when it turns less than the angle. The outline's tangents over
 * an angle are surer than its curvature at a place.
 * @param angle of the turn (rad)
 */
export function sharpestTurn(context: SectionContext, from: number, to: number, angle: number): SharpestTurn | null {
  const { noise } = context;
  const { turned, length, step } = turnAlong(context, from, to, PLACES);
  const radii = new Float64Array(PLACES + 1).fill(Number.POSITIVE_INFINITY);
  const middles = new Float64Array(PLACES + 1);
  let best = 0;
  let end = 0;
  for (let i = 0; i < PLACES; i++) {
    end = Math.max(end, i + 1);
    while (end < PLACES && turned[end] - turned[i] < angle) end++;
    const over = turned[end] - turned[i] - angle;
    if (over < 0) break;
    const back = Math.min(1, over / (turned[end] - turned[end - 1]));
    radii[i] = (length[end] - back * (length[end] - length[end - 1]) - length[i]) / angle;
    middles[i] = from + 0.5 * (i + end - back) * step;
    if (radii[i] < radii[best]) best = i;
  }
  const radius = radii[best];
  if (!Number.isFinite(radius)) return null;
  const u = noise ? turnUncertainty(noise, middles[best], radius, angle) : null;
  const most = radius + (u === null ? EQUAL * radius : SURE * u);
  let [low, high] = [best, best];
  for (let i = 0; i <= PLACES; i++)
    if (radii[i] <= most) {
      low = Math.min(low, i);
      high = i;
    }
  return { t: middles[best], radius, u, from: middles[low], to: middles[high], alike: turned[high] - turned[low] };
}

/** Returns the turn along a stretch without sharp corners at `count` + 1 places. */
export function turnAlong(context: SectionContext, from: number, to: number, count: number): Turn {
  const step = (to - from) / count;
  const turned = new Float64Array(count + 1);
  const length = new Float64Array(count + 1);
  let [tx, ty, speed] = [0, 0, 0];
  for (let i = 0; i <= count; i++) {
    contourAt(context.section.outline, from + i * step, place);
    if (i > 0) {
      turned[i] = turned[i - 1] + Math.atan2(tx * place.ty - ty * place.tx, tx * place.tx + ty * place.ty);
      length[i] = length[i - 1] + 0.5 * step * (speed + place.speed);
    }
    [tx, ty, speed] = [place.tx, place.ty, place.speed];
  }
  return { turned, length, step };
}

/** Over a stretch shorter than the outline's window its curvature errs as one, over a longer one its two tangents. */
function turnUncertainty(noise: PositionNoise, t: number, radius: number, angle: number): number {
  return Math.min(radius * radius * noise.curvature(t), (Math.SQRT2 * radius * noise.direction(t)) / angle);
}
