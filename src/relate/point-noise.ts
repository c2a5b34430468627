import { MAD_TO_SIGMA, medianInPlace } from '../math/median.ts';
import type { Relation } from '../model/relation.ts';
import type { CellPoints } from './sort-into-cells.ts';

/**
 * Returns the standard deviation of one point along the nominal's normal (mm), from the data alone: within each cell the
 * points' distances about a plane fitted through the cell's points, pooled by the median absolute deviation with the
 * loss of three degrees of freedom given back. Form that is smooth within a cell does not count as noise; strays do not
 * either. NaN when no cell holds six points.
 */
export function pointNoise(relation: Relation, sorted: CellPoints): number {
  const { u, height, deviation } = relation;
  const residuals = new Float64Array(sorted.points.length);
  let used = 0;
  for (let k = 0; k + 1 < sorted.start.length; k++) {
    const from = sorted.start[k];
    const n = sorted.start[k + 1] - from;
    if (n < 6) continue;
    let su = 0;
    let sh = 0;
    let sd = 0;
    for (let j = from; j < from + n; j++) {
      const i = sorted.points[j];
      su += u[i];
      sh += height[i];
      sd += deviation[i];
    }
    su /= n;
    sh /= n;
    sd /= n;
    let uu = 0;
    let uh = 0;
    let hh = 0;
    let ud = 0;
    let hd = 0;
    for (let j = from; j < from + n; j++) {
      const i = sorted.points[j];
      const a = u[i] - su;
      const b = height[i] - sh;
      const d = deviation[i] - sd;
      uu += a * a;
      uh += a * b;
      hh += b * b;
      ud += a * d;
      hd += b * d;
    }
    const det = uu * hh - uh * uh;
    if (!(det > 1e-12 * uu * hh)) continue;
    const pu = (ud * hh - hd * uh) / det;
    const ph = (hd * uu - ud * uh) / det;
    const scale = Math.sqrt(n / (n - 3));
    for (let j = from; j < from + n; j++) {
      const i = sorted.points[j];
      residuals[used++] = Math.abs(deviation[i] - sd - pu * (u[i] - su) - ph * (height[i] - sh)) * scale;
    }
  }
  return used === 0 ? NaN : MAD_TO_SIGMA * medianInPlace(residuals.subarray(0, used));
}
