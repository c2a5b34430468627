import type { EndCircle } from './camber-end.ts';
import { type CamberLine, circleAt } from './camber-line.ts';
import { parameterFrom } from './contour.ts';
import type { Inscribed } from './inscribed-circle.ts';
import type { Section, SectionContext } from './section-context.ts';

/** A shift at a place of the nominal, with the covariance of (dx, dy, twist), row-major 3 × 3, where known. */
export interface PlacedShift {
  dx: number;
  dy: number;
  pivot: readonly [number, number];
  covariance: Float64Array | null;
}

/** Fractions of the line of centres about its middle that settle where the middle is, and how many. */
const FROM = 0.3;
const TO = 0.7;
const COUNT = 21;
const FRACTIONS = Array.from({ length: COUNT }, (_, k) => FROM + ((TO - FROM) * k) / (COUNT - 1));
/** Value at the centre of a quadratic fitted to n values: known to this many standard deviations / √n. */
const QUADRATIC_CENTRE = 1.5;
/** Weight of each in the value at the middle of the quadratic of least squares through all. */
const WEIGHTS = quadraticWeights(FRACTIONS.map((f) => f - 0.5));

function quadraticWeights(at: number[]): number[] {
  const squares = at.map((x) => x * x);
  const sum = squares.reduce((total, q) => total + q, 0);
  const fourth = squares.reduce((total, q) => total + q * q, 0);
  return squares.map((q) => (fourth - q * sum) / (at.length * fourth - sum * sum));
}

/**
 * Returns the shift of the middle of the line of centres: that of a quadratic of least squares through the shifts at
 * equal fractions of both lines; or in words why there is none.
 */
export function middleShift(nominal: SectionContext, measured: SectionContext): PlacedShift | string {
  const [a, b] = [nominal.line, measured.line];
  const none = 'No line of centres was found.';
  if (!a || !b) return none;
  const middle = circleAt(nominal.contour, a, 0.5 * a.length);
  if (!middle) return none;
  if ([b.leading, b.trailing].some((end) => !measured.covered(end.from, end.to)))
    return 'No points at an edge, which tells where the line of centres ends.';
  const circles: Inscribed[] = [];
  let [dx, dy] = [0, 0];
  for (const [k, f] of FRACTIONS.entries()) {
    const from = circleAt(nominal.contour, a, f * a.length);
    const to = circleAt(measured.contour, b, f * b.length);
    if (!from || !to) return none;
    if (!measured.covered(to.first, to.first) || !measured.covered(to.second, to.second))
      return 'No points at the middle of the line of centres.';
    dx += WEIGHTS[k] * (to.x - from.x);
    dy += WEIGHTS[k] * (to.y - from.y);
    circles.push(to);
  }
  return { dx, dy, pivot: [middle.x, middle.y], covariance: middleCovariance(measured, b, circles) };
}

/** Along the line its ends settle the middle, across it the contacts of the circles about it. */
function middleCovariance(measured: SectionContext, line: CamberLine, circles: Inscribed[]): Float64Array | null {
  const { noise, section } = measured;
  if (!noise) return null;
  const ends = [line.leading, line.trailing].map((end) => alongUncertainty(end) ?? noise.at(0.5 * (end.from + end.to)));
  const along = 0.5 * Math.hypot(ends[0], ends[1]);
  const [first, own, last] = [circles[0], circles[COUNT >> 1], circles[COUNT - 1]];
  const sides = [pointsBetween(section, first.first, last.first), pointsBetween(section, last.second, first.second)];
  const contacts = noise.sigma * Math.hypot(...sides.map((count) => 1 / Math.sqrt(Math.max(1, count))));
  const across = (QUADRATIC_CENTRE * contacts) / (2 * Math.sin(own.halfAngle));
  const { tx, ty } = own;
  const covariance = shiftCovariance(Math.hypot(along * tx, across * ty), Math.hypot(along * ty, across * tx));
  covariance[1] = (along * along - across * across) * tx * ty;
  covariance[3] = covariance[1];
  return covariance;
}

/** Number of fitted points from one parameter to another, running counter-clockwise. */
function pointsBetween({ outline, fitted }: Section, from: number, to: number): number {
  const end = parameterFrom(outline, from, to);
  return fitted?.parameters.reduce((count, t) => count + (parameterFrom(outline, from, t) < end ? 1 : 0), 0) ?? 0;
}

/** Standard uncertainty of an end-circle centre along the line of centres: its nose, one radius further in. */
function alongUncertainty({ shape, u }: EndCircle): number | null {
  if (!shape) return u;
  const { covariance } = shape;
  return Math.sqrt(Math.max(0, covariance[0] + 2 * covariance[3] + covariance[18]));
}

/** Covariance of a shift whose components do not go together, its turn known. */
export function shiftCovariance(ux: number, uy: number): Float64Array {
  return Float64Array.of(ux * ux, 0, 0, 0, uy * uy, 0, 0, 0, 0);
}
