import { outlineFoot } from '../fit/outline-foot.ts';
import type { Outline } from '../model/outline.ts';
import { type Contour, parameterFrom, placeBefore } from './contour.ts';
import { equidistantAt, isClear, isSteady } from './equidistant-circle.ts';
import { type ContactLimits, type Inscribed, inscribedAt, largestShrunkBall } from './inscribed-circle.ts';

/** Why the row of inscribed circles ended: a round edge, a sharp corner, or a flat end that the circle touches. */
export type SweepEnd = 'round' | 'sharp' | 'flat';

/** Inscribed circles in order from the leading to the trailing edge, and why each end stopped. */
export interface CamberSweep {
  circles: Inscribed[];
  leadingEnd: SweepEnd;
  trailingEnd: SweepEnd;
}

export interface SweepOptions {
  /** Steps over the section. */
  steps: number;
  /** Half the angle between the contact normals (rad) below which a row of a measured outline stops. */
  leastHalfAngle: number;
  /** Distance (mm) below which a third contact is taken for noise. */
  noise: number;
}

/** Radius, as a share of the largest, below which an edge counts as sharp. */
const SHARP = 2e-3;
/** Largest change of half angle in one step (rad). */
const TURN = 0.2;
/** Most steps leapt over a bump. */
const LEAP = 3;
/** Outline left beyond the contacts, in radii, at which the end is near. */
const END_REACH = 4.5;

/**
 * Returns the inscribed circles of a section swept from the thickest place to both ends, or null when none is found.
 * Shrinking ball for the first circle, then Newton's method from circle to circle; the step halves where it fails.
 * @param leading,trailing parameters of the edge points
 */
export function sweepCamber(
  contour: Contour,
  leading: number,
  trailing: number,
  options: SweepOptions,
): CamberSweep | null {
  const { outline } = contour;
  const ball = largestShrunkBall(contour, leading, trailing);
  if (!ball) return null;
  const first = parameterFrom(outline, leading, ball.first);
  const end = parameterFrom(outline, leading, trailing);
  const second = parameterFrom(outline, end, ball.second);
  const limits = contactLimits(outline, first, second);
  const start = inscribedAt(outline, { ...ball, first, second }, 0, limits);
  if (!start) return null;
  const rough = 0.5 * contour.perimeter;
  const back = sweepOneWay(contour, start, -1, limits, rough, options);
  const forth = sweepOneWay(contour, start, 1, limits, rough, options);
  return {
    circles: [...back.circles.reverse(), start, ...forth.circles],
    leadingEnd: back.end,
    trailingEnd: forth.end,
  };
}

function contactLimits(outline: Outline, first: number, second: number): ContactLimits {
  const limits = {
    firstLow: second - outline.period,
    firstHigh: second,
    secondLow: first,
    secondHigh: first + outline.period,
  };
  for (const corner of outline.corners) {
    const high = parameterFrom(outline, first, corner);
    limits.firstHigh = Math.min(limits.firstHigh, high);
    limits.firstLow = Math.max(limits.firstLow, high - outline.period);
    const above = parameterFrom(outline, second, corner);
    limits.secondHigh = Math.min(limits.secondHigh, above);
    limits.secondLow = Math.max(limits.secondLow, above - outline.period);
  }
  return limits;
}

function sweepOneWay(
  contour: Contour,
  start: Inscribed,
  way: 1 | -1,
  limits: ContactLimits,
  rough: number,
  options: SweepOptions,
): { circles: Inscribed[]; end: SweepEnd } {
  const { outline } = contour;
  const circles: Inscribed[] = [];
  const longest = rough / options.steps;
  const noisy = options.noise > 0;
  let last = start;
  let largest = start.radius;
  let step = longest;
  for (let count = 0; count < 40 * options.steps; count++) {
    if (last.radius < SHARP * largest) return { circles, end: 'sharp' };
    if (noisy && last.halfAngle < options.leastHalfAngle) return { circles, end: 'round' };
    step = Math.min(step, longest, 0.3 * last.radius);
    const next = inscribedAt(outline, last, way * step, limits);
    if (!next || !follows(last, next, way) || (noisy && !isSound(contour, last, next, way * step, options.noise))) {
      step *= 0.5;
      if (step >= (noisy ? 1e-2 : 1e-5) * last.radius) continue;
      const beyond = nearEnd(outline, last, way) ? null : leap(contour, last, way, longest);
      if (!beyond) return { circles, end: endOf(outline, last, way) };
      circles.push(beyond);
      last = beyond;
      step = longest;
      continue;
    }
    const tolerance = Math.max(1e-4 * next.radius, 4 * options.noise);
    if (nearEnd(outline, next, way) && gapToEnd(contour, next, way, false) < -tolerance) {
      if (noisy && !cornerBeyond(outline, next, way)) return { circles, end: 'round' };
      const touching = untilTouch(contour, last, way, step, limits);
      if (touching) circles.push(touching);
      return { circles, end: 'flat' };
    }
    circles.push(next);
    last = next;
    largest = Math.max(largest, next.radius);
    step *= 1.6;
  }
  return { circles, end: endOf(outline, last, way) };
}

/** True when little outline is left beyond the contacts: what stops the sweep there is the edge, not a bump. */
function nearEnd(outline: Outline, circle: Inscribed, way: 1 | -1): boolean {
  const left = way > 0 ? circle.second - circle.first : circle.first + outline.period - circle.second;
  return left < END_REACH * circle.radius;
}

/** On a measured outline a circle must keep the trend of the radius and hold no bump of the outline. */
function isSound(contour: Contour, last: Inscribed, next: Inscribed, advance: number, noise: number): boolean {
  return isSteady(last, next.radius, advance) && isClear(contour, next, 8 * noise + 1e-3 * next.radius);
}

/** A circle one to a few steps ahead, found without slopes; null when there is none. */
function leap(contour: Contour, last: Inscribed, way: 1 | -1, longest: number): Inscribed | null {
  for (let steps = 1; steps <= LEAP; steps++) {
    const next = equidistantAt(contour, last, way * steps * longest);
    if (next && next.tx * last.tx + next.ty * last.ty > 0.9) return next;
  }
  return null;
}

/** True when the next circle is a lawful neighbour: contacts move on, no jump in direction or in half angle. */
function follows(last: Inscribed, next: Inscribed, way: 1 | -1): boolean {
  if (next.room < -1e-9) return false;
  if (way * (next.first - last.first) <= 0 || way * (last.second - next.second) <= 0) return false;
  if (next.tx * last.tx + next.ty * last.ty < 0.98) return false;
  return Math.abs(next.halfAngle - last.halfAngle) < TURN;
}

/** A row that stops close to a corner runs into a wedge. */
function endOf(outline: Outline, last: Inscribed, way: 1 | -1): SweepEnd {
  return nearEnd(outline, last, way) && cornerBeyond(outline, last, way) ? 'sharp' : 'round';
}

/** True when the outline beyond the contacts has a corner. */
function cornerBeyond(outline: Outline, circle: Inscribed, way: 1 | -1): boolean {
  const [from, to] = way > 0 ? [circle.first, circle.second] : [circle.second - outline.period, circle.first];
  return outline.corners.some((corner) => parameterFrom(outline, from, corner) < to);
}

/**
 * Distance of the outline beyond the contacts from the circle (mm); negative when the circle cuts through it. From the
 * listed places, the nearest ones between the contacts and not beside them; polished by a foot point when `exact`.
 */
function gapToEnd(contour: Contour, circle: Inscribed, way: 1 | -1, exact: boolean): number {
  const { outline, x, y, count } = contour;
  const from = way > 0 ? circle.first : circle.second;
  const to = way > 0 ? circle.second : circle.first + outline.period;
  const places = placeBefore(contour, to) - placeBefore(contour, from);
  const start = placeBefore(contour, from) + 1;
  const total = places >= 0 ? places : places + count;
  let nearest = Number.POSITIVE_INFINITY;
  let at = start % count;
  let falling = false;
  let last = 0;
  for (let k = 0; k < total; k++) {
    const i = (start + k) % count;
    const squared = (x[i] - circle.x) ** 2 + (y[i] - circle.y) ** 2;
    if (squared < last) falling = true;
    else if (squared > last) {
      if (falling && last < nearest) [nearest, at] = [last, (i + count - 1) % count];
      falling = false;
    }
    last = squared;
  }
  if (!exact) return Math.sqrt(nearest) - circle.radius;
  const foot = outlineFoot(outline, circle.x, circle.y, contour.t[at]);
  const beyond = parameterFrom(outline, from, foot.t) < to;
  return (beyond ? Math.abs(foot.distance) : Math.sqrt(nearest)) - circle.radius;
}

/** The circle between `last` and one step beyond that just touches the end, by halving. */
function untilTouch(
  contour: Contour,
  last: Inscribed,
  way: 1 | -1,
  step: number,
  limits: ContactLimits,
): Inscribed | null {
  let low = 0;
  let high = step;
  let found: Inscribed | null = null;
  for (let turn = 0; turn < 60 && high - low > 1e-13 * contour.perimeter; turn++) {
    const middle = 0.5 * (low + high);
    const circle = inscribedAt(contour.outline, last, way * middle, limits);
    if (circle && gapToEnd(contour, circle, way, true) >= 0) {
      low = middle;
      found = circle;
    } else high = middle;
  }
  return found;
}
