import type { Outline } from '../model/outline.ts';
import type { CarriedSection } from '../section/carry-points.ts';
import { areaValue } from './area-values.ts';
import { middleShift, type PlacedShift, shiftCovariance } from './camber-shift.ts';
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
    covariance: x.u === null || y.u === null ? null : shiftCovariance(x.u, y.u),
  };
}
