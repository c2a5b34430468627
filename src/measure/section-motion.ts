import type { Outline } from '../model/outline.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import { areaValue } from './area-values.ts';
import { circleAt } from './camber-line.ts';
import type { PositionNoise } from './position-noise.ts';
import type { SectionContext } from './section-context.ts';
import { fitSection, type SectionFit } from './twist-fit.ts';

/** What carries the displacement of a section. */
export const MOTION_BASES = ['rigid fit', 'centroid', 'mid camber line'] as const;
export type MotionBasis = (typeof MOTION_BASES)[number];

/** Displacement of a pivot (mm) with its standard uncertainty, null without noise. */
export interface PivotMotion {
  dx: number;
  dy: number;
  uDx: number | null;
  uDy: number | null;
  /** Covariance of dx and dy (mm²). */
  uXY: number;
  converged: boolean;
}

/** Fractions of the line of centres about its middle that settle where the middle is, and how many. */
const MIDDLE_FROM = 0.3;
const MIDDLE_TO = 0.7;
const MIDDLE_COUNT = 21;
/** Value at the centre of a quadratic fitted to n values: known to this many standard deviations / √n. */
const QUADRATIC_CENTRE = 1.5;

interface KnownFits {
  outline: Outline;
  included?: SectionFit | null;
  excluded?: SectionFit | null;
}
const known = new WeakMap<CarriedSection, KnownFits>();

/**
 * Returns the best rigid motion of the carried points against the nominal, stated at the nominal's centroid; found once
 * and kept while the points live.
 */
export function rigidMotion(
  nominal: SectionContext,
  carried: CarriedSection,
  edges: 'included' | 'excluded',
): SectionFit | null {
  const { outline, edges: ends } = nominal.section;
  let kept = known.get(carried);
  if (kept?.outline !== outline) {
    kept = { outline };
    known.set(carried, kept);
  }
  const have = kept[edges];
  if (have !== undefined) return have;
  const pivot: [number, number] = [nominal.area.centroidX, nominal.area.centroidY];
  const fit = fitSection(outline, ends, carried.points, pivot, { excludeEdges: edges === 'excluded' });
  kept[edges] = fit;
  return fit;
}

/**
 * Returns the displacement of a pivot of the nominal: that of the basis, carried to the pivot by the turn of the rigid
 * fit, edges included. A rigid motion reads the same on every basis.
 * @returns null with the reason as a string where the basis is not there
 */
export function pivotMotion(
  nominal: SectionContext,
  measured: SectionContext,
  carried: CarriedSection,
  basis: MotionBasis,
  pivot: readonly [number, number],
): PivotMotion | string {
  const fit = rigidMotion(nominal, carried, 'included');
  if (!fit) return 'The fit of the section found no motion.';
  if (basis === 'rigid fit') return turnedTo(fit, fit, pivot);
  const found = basis === 'centroid' ? centroidShift(nominal, measured) : middleShift(nominal, measured);
  if (typeof found === 'string') return found;
  if (found.covariance) found.covariance[8] = (fit.uTwist ?? 0) ** 2;
  return turnedTo(found, fit, pivot);
}

/** A shift at a place of the nominal, with the covariance of (dx, dy, twist) where known. */
interface PlacedShift {
  dx: number;
  dy: number;
  pivot: readonly [number, number];
  covariance: Float64Array | null;
}

function turnedTo(shift: PlacedShift, fit: SectionFit, pivot: readonly [number, number]): PivotMotion {
  const c = Math.cos(fit.twist);
  const s = Math.sin(fit.twist);
  const rx = pivot[0] - shift.pivot[0];
  const ry = pivot[1] - shift.pivot[1];
  const byTurn = [-s * rx - c * ry, c * rx - s * ry];
  const { covariance: v } = shift;
  const both = (a: 0 | 1, b: 0 | 1) =>
    v ? v[3 * a + b] + byTurn[a] * v[3 * b + 2] + byTurn[b] * v[3 * a + 2] + byTurn[a] * byTurn[b] * v[8] : 0;
  return {
    dx: shift.dx + (c - 1) * rx - s * ry,
    dy: shift.dy + s * rx + (c - 1) * ry,
    uDx: v ? Math.sqrt(both(0, 0)) : null,
    uDy: v ? Math.sqrt(both(1, 1)) : null,
    uXY: both(0, 1),
    converged: fit.converged,
  };
}

function centroidShift(nominal: SectionContext, measured: SectionContext): PlacedShift | string {
  const [x, y] = [areaValue(measured, 'CENTROID-X'), areaValue(measured, 'CENTROID-Y')];
  const { centroidX, centroidY } = nominal.area;
  if (x.value === null || y.value === null) return x.reason ?? 'The centre of area was not found.';
  return {
    dx: x.value - centroidX,
    dy: y.value - centroidY,
    pivot: [centroidX, centroidY],
    covariance: x.u === null || y.u === null ? null : variances(x.u, y.u),
  };
}

/** Shift of the middle of the line of centres: a quadratic through the shifts at equal fractions about it. */
function middleShift(nominal: SectionContext, measured: SectionContext): PlacedShift | string {
  const [a, b] = [nominal.line, measured.line];
  const none = 'No line of centres was found.';
  if (!a || !b) return none;
  const middle = circleAt(nominal.contour, a, 0.5 * a.length);
  const own = circleAt(measured.contour, b, 0.5 * b.length);
  if (!middle || !own) return none;
  if ([b.leading, b.trailing].some((end) => !measured.covered(end.from, end.to)))
    return 'No points at an edge, which tells where the line of centres ends.';
  const sums = new Float64Array(7);
  for (let k = 0; k < MIDDLE_COUNT; k++) {
    const f = MIDDLE_FROM + ((MIDDLE_TO - MIDDLE_FROM) * k) / (MIDDLE_COUNT - 1);
    const from = circleAt(nominal.contour, a, f * a.length);
    const to = circleAt(measured.contour, b, f * b.length);
    if (!from || !to) return none;
    if (!measured.covered(to.first, to.first) || !measured.covered(to.second, to.second))
      return 'No points at the middle of the line of centres.';
    const q = (f - 0.5) ** 2;
    const terms = [1, q, q * q, to.x - from.x, q * (to.x - from.x), to.y - from.y, q * (to.y - from.y)];
    for (let j = 0; j < 7; j++) sums[j] += terms[j];
  }
  const [n, q, qq, x, qx, y, qy] = sums;
  const determinant = n * qq - q * q;
  return {
    dx: (qq * x - q * qx) / determinant,
    dy: (qq * y - q * qy) / determinant,
    pivot: [middle.x, middle.y],
    covariance: measured.noise ? middleCovariance(b, own, measured.noise) : null,
  };
}

/** Along the line its ends settle the middle, across it the contacts of the circles about it. */
function middleCovariance(
  line: NonNullable<SectionContext['line']>,
  own: NonNullable<ReturnType<typeof circleAt>>,
  noise: PositionNoise,
): Float64Array {
  const ends = [line.leading, line.trailing].map((end) => noise.at(0.5 * (end.from + end.to)));
  const along = 0.5 * Math.hypot(ends[0], ends[1]);
  const window = 0.5 * (noise.window(own.first) + noise.window(own.second));
  const independent = Math.max(3, ((MIDDLE_TO - MIDDLE_FROM) * line.length) / window);
  const contacts = Math.hypot(noise.at(own.first), noise.at(own.second)) / (2 * Math.sin(own.halfAngle));
  const across = (QUADRATIC_CENTRE * contacts) / Math.sqrt(independent);
  const { tx, ty } = own;
  const full = variances(Math.hypot(along * tx, across * ty), Math.hypot(along * ty, across * tx));
  full[1] = (along * along - across * across) * tx * ty;
  full[3] = full[1];
  return full;
}

/** Covariance of an unturned, uncorrelated shift. */
function variances(ux: number, uy: number): Float64Array {
  return Float64Array.of(ux * ux, 0, 0, 0, uy * uy, 0, 0, 0, 0);
}
