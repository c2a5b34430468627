import { cross3 } from '../math/vec3.ts';
import type { Place } from '../model/results.ts';
import type { DatumResult } from '../model/stock-results.ts';
import { solveSmall } from './solve-small.ts';

/** Places of a surface with outward unit normals, x0, y0, z0, … in the nominal frame (mm). */
export interface DatumSurface {
  point: Float64Array;
  normal: Float64Array;
  /** Tells the place of point `i`. */
  placeOf: (i: number) => Place;
}

/**
 * Returns the covariance of the motion [v (mm), w (rad)] that six targets hold: G⁻¹ S G⁻ᵀ for rows G and independent
 * standard uncertainties, row-major 6 × 6.
 * @param rows 6 × 6, not singular, about the point whose shift is v
 * @param u standard uncertainty of each target (mm)
 */
export function datumCovariance(rows: Float64Array, u: ArrayLike<number>): Float64Array {
  const covariance = new Float64Array(36);
  for (let k = 0; k < 6; k++) {
    const unit = new Float64Array(6);
    unit[k] = u[k];
    const column = solveSmall(rows, unit, 6)!;
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) covariance[6 * i + j] += column[i] * column[j];
  }
  return covariance;
}

/** Returns the standard uncertainty (mm) of the displacement along a normal at place `i` of points about the same centre. */
function displacementU(covariance: Float64Array, row: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) sum += row[i] * covariance[6 * i + j] * row[j];
  return Math.sqrt(Math.max(0, sum));
}

/**
 * Returns the largest growth of the targets' uncertainty over a surface: u of the displacement along the normal over
 * the largest u of a target, and where. When every u is 0 the growth is that of equal ones.
 * @param rows about the origin
 */
export function amplification(
  rows: Float64Array,
  u: ArrayLike<number>,
  surface: Pick<DatumSurface, 'point' | 'normal'> & { placeOf?: DatumSurface['placeOf'] },
): DatumResult['amplification'] {
  const largest = Math.max(...Array.from(u));
  const covariance = datumCovariance(rows, largest > 0 ? u : new Float64Array(6).fill(1));
  const { point, normal, placeOf } = surface;
  let [most, at] = [0, -1];
  for (let i = 0; i < point.length; i += 3) {
    const n = normal.subarray(i, i + 3);
    const found = displacementU(covariance, [...n, ...cross3(point.subarray(i, i + 3), n)]);
    if (found > most) [most, at] = [found, i / 3];
  }
  return { factor: most / (largest > 0 ? largest : 1), place: at >= 0 && placeOf ? placeOf(at) : null };
}
