import type { NominalSurface } from '../model/surface.ts';
import type { Feet } from '../spatial/nominal-feet.ts';
import { alongAt } from '../spatial/surface-evaluate.ts';

/** How much each measured point counts: equal nominal areas alike, edges as much as flanks, or every point alike. */
export type Weighting = 'area' | 'zones' | 'points';

/** Points of a cell wanted on average; fewer cells for fewer points. */
const POINTS_PER_CELL = 30;
const CELLS_MOST = 2400;
/** A weight beyond this many times the median is cut: a cell hit by a few points must not carry the fit. */
const WEIGHT_MOST = 4;
/** Distance from a nose in u that counts as its edge. */
const EDGE_SHARE = 0.04;

/**
 * Returns a weight a point (mean 1 over the used ones, 0 for the others), from the density of the feet over the
 * nominal: area of a cell over the number of feet in it. So an oversampled edge or a scanner's dense strip has no more
 * say than its area.
 * @param used 1 for the points that count
 */
export function balanceWeights(
  surface: NominalSurface,
  feet: Feet,
  used: Uint8Array,
  weighting: Weighting,
): Float64Array {
  const count = used.length;
  const weights = Float64Array.from(used);
  let total = 0;
  for (let i = 0; i < count; i++) total += used[i];
  if (weighting !== 'points' && total > 0) {
    const cells = Math.min(CELLS_MOST, Math.max(12, total / POINTS_PER_CELL));
    const around = 2 * Math.max(2, Math.round(Math.sqrt(cells) / 2));
    const up = Math.max(2, Math.round(cells / around));
    const low = surface.heights[0];
    const span = surface.heights[surface.heights.length - 1] - low;
    const cellOf = (i: number) => {
      const a = Math.min(around - 1, Math.max(0, Math.floor(((feet.u[i] + 1) / 2) * around)));
      const b = Math.min(up - 1, Math.max(0, Math.floor(((feet.height[i] - low) / span) * up)));
      return a * up + b;
    };
    const hits = new Float64Array(around * up);
    for (let i = 0; i < count; i++) if (used[i]) hits[cellOf(i)]++;
    const value = new Float64Array(around * up);
    for (let a = 0; a < around; a++)
      for (let b = 0; b < up; b++) {
        const z = low + ((b + 0.5) / up) * span;
        const length = alongAt(surface, -1 + (2 * (a + 1)) / around, z) - alongAt(surface, -1 + (2 * a) / around, z);
        if (hits[a * up + b] > 0) value[a * up + b] = length / hits[a * up + b];
      }
    const sorted = value.filter((v) => v > 0).sort();
    const most = WEIGHT_MOST * sorted[sorted.length >> 1];
    for (let i = 0; i < count; i++) if (used[i]) weights[i] = Math.min(most, value[cellOf(i)]);
    if (weighting === 'zones') evenOutZones(feet, weights);
  }
  let sum = 0;
  for (let i = 0; i < count; i++) sum += weights[i];
  if (sum > 0) for (let i = 0; i < count; i++) weights[i] *= total / sum;
  return weights;
}

/** Gives both edges together the say of both flanks together. */
function evenOutZones(feet: Feet, weights: Float64Array): void {
  const isEdge = (u: number) => Math.abs(u) < EDGE_SHARE || Math.abs(u) > 1 - EDGE_SHARE;
  let [edge, flank] = [0, 0];
  for (let i = 0; i < weights.length; i++) {
    if (isEdge(feet.u[i])) edge += weights[i];
    else flank += weights[i];
  }
  if (!(edge > 0 && flank > 0)) return;
  for (let i = 0; i < weights.length; i++) if (isEdge(feet.u[i])) weights[i] *= flank / edge;
}
