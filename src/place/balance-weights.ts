import type { NominalSurface } from '../model/surface.ts';
import type { Feet } from '../spatial/nominal-feet.ts';
import { alongAt } from '../spatial/surface-evaluate.ts';
import { cellOf, type SurfaceCells, surfaceCells } from './surface-cells.ts';

/** How much each measured point counts: equal nominal areas alike, edges as much as flanks, or every point alike. */
export type Weighting = 'area' | 'zones' | 'points';

/** Points of a cell wanted on average; fewer cells for fewer points. */
const POINTS_PER_CELL = 30;
const CELLS_MOST = 2400;
/** A weight beyond this many times the median is cut: a cell hit by a few points must not carry the fit. */
const WEIGHT_MOST = 4;
/** Distance from a nose that counts as its edge, share of the perimeter. */
const EDGE_SHARE = 0.02;

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
    const wanted = Math.min(CELLS_MOST, Math.max(12, total / POINTS_PER_CELL));
    const around = 2 * Math.max(2, Math.round(Math.sqrt(wanted) / 2));
    const cells = surfaceCells(surface, around, Math.max(2, Math.round(wanted / around)));
    const hits = new Float64Array(around * cells.up);
    const own = new Int32Array(count);
    for (let i = 0; i < count; i++) if (used[i]) hits[(own[i] = cellOf(cells, feet.u[i], feet.height[i]))]++;
    const value = cellLengths(surface, cells);
    for (let k = 0; k < value.length; k++) value[k] = hits[k] > 0 ? value[k] / hits[k] : 0;
    const sorted = value.filter((v) => v > 0).sort();
    const most = WEIGHT_MOST * sorted[sorted.length >> 1];
    for (let i = 0; i < count; i++) if (used[i]) weights[i] = Math.min(most, value[own[i]]);
    if (weighting === 'zones') evenOutZones(surface, feet, weights);
  }
  let sum = 0;
  for (let i = 0; i < count; i++) sum += weights[i];
  if (sum > 0) for (let i = 0; i < count; i++) weights[i] *= total / sum;
  return weights;
}

/** Length round the outline of each cell at its middle height (mm): its area but for the common height. */
function cellLengths(surface: NominalSurface, cells: SurfaceCells): Float64Array {
  const { around, up, uLow, uHigh, heightLow, heightHigh } = cells;
  const lengths = new Float64Array(around * up);
  for (let b = 0; b < up; b++) {
    const z = heightLow + ((b + 0.5) / up) * (heightHigh - heightLow);
    const at = (a: number) => alongAt(surface, uLow + (a / around) * (uHigh - uLow), z);
    for (let a = 0; a < around; a++) lengths[a * up + b] = at(a + 1) - at(a);
  }
  return lengths;
}

/** Gives both edges together the say of both flanks together. */
function evenOutZones(surface: NominalSurface, feet: Feet, weights: Float64Array): void {
  const { columns } = surface;
  const [low, high] = [columns[0], columns[columns.length - 1]];
  const near = EDGE_SHARE * (high - low);
  const isEdge = (u: number) => Math.abs(u) < near || u < low + near || u > high - near;
  let [edge, flank] = [0, 0];
  for (let i = 0; i < weights.length; i++) {
    if (isEdge(feet.u[i])) edge += weights[i];
    else flank += weights[i];
  }
  if (!(edge > 0 && flank > 0)) return;
  for (let i = 0; i < weights.length; i++) if (isEdge(feet.u[i])) weights[i] *= flank / edge;
}
