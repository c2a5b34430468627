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
  /** Between these middles the radius stays within its uncertainty (two of it) of the least. */
  from: number;
  to: number;
}

const PLACES = 1200;
/** Radii of an exact outline within this share of the least count as equal: a spline rings where curvature jumps. */
const EQUAL = 5e-3;
const place = contourPoint();

/**
 * Returns the sharpest turn of a smooth stretch, or null when it turns less than the angle. The outline's tangents over
 * an angle are surer than its curvature at a place.
 * @param angle of the turn (rad)
 */
export function sharpestTurn(context: SectionContext, from: number, to: number, angle: number): SharpestTurn | null {
  const { section, noise } = context;
  const step = (to - from) / PLACES;
  const turned = new Float64Array(PLACES + 1);
  const length = new Float64Array(PLACES + 1);
  let [tx, ty, speed] = [0, 0, 0];
  for (let i = 0; i <= PLACES; i++) {
    contourAt(section.outline, from + i * step, place);
    if (i > 0) {
      turned[i] = turned[i - 1] + Math.atan2(tx * place.ty - ty * place.tx, tx * place.tx + ty * place.ty);
      length[i] = length[i - 1] + 0.5 * step * (speed + place.speed);
    }
    [tx, ty, speed] = [place.tx, place.ty, place.speed];
  }
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
  const most = radius + (u === null ? EQUAL * radius : 2 * u);
  let [low, high] = [best, best];
  while (low > 0 && radii[low - 1] <= most) low--;
  while (high < PLACES && radii[high + 1] <= most) high++;
  return { t: middles[best], radius, u, from: middles[low], to: middles[high] };
}

/** Over a stretch shorter than the outline's window its curvature errs as one, over a longer one its two tangents. */
function turnUncertainty(noise: PositionNoise, t: number, radius: number, angle: number): number {
  return Math.min(radius * radius * noise.curvature(t), (Math.SQRT2 * radius * noise.direction(t)) / angle);
}
