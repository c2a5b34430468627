import type { Outline } from '../model/outline.ts';
import { type ArcTable, lengthAtParameter } from './outline-arc-table.ts';
import { curvatureAt } from './outline-evaluate.ts';

/** One section as the loft sees it: lengths are signed along `u` (pressure side positive) from the leading edge. */
export interface LoftRow {
  outline: Outline;
  table: ArcTable;
  /** +1 when `u` runs with the outline's parameter. */
  direction: 1 | -1;
  suctionLength: number;
  pressureLength: number;
  /** Signed lengths of the corners between the trailing edge's two ends, rising; the trailing edge itself left out. */
  corners: number[];
  cornerAtTrailing: boolean;
}

/** Largest turn of the outline between neighbouring columns (rad): 2.5° keeps arc-to-flank junctions below 0.01 % of R. */
const MAX_TURN = (2.5 * Math.PI) / 180;
/** Largest column spacing as a share of the perimeter. */
const MAX_SHARE = 1 / 160;
/** Spacing may grow by this much a millimetre, so that neighbours stay alike. */
const GROWTH = 0.2;
const BINS_A_TURN = 6000;

/** Signed length in a row for column position `u`, given the anchors both share (ends, corners) and the leading edge. */
export function lengthOfColumn(
  u: number,
  anchorsU: readonly number[],
  anchorsRow: readonly number[],
  smooth: boolean,
): number {
  if (smooth) {
    const [uMin, uMax] = [anchorsU[0], anchorsU[anchorsU.length - 1]];
    const [rowMin, rowMax] = [anchorsRow[0], anchorsRow[anchorsRow.length - 1]];
    const scale = (rowMax - rowMin) / (uMax - uMin);
    const shift = rowMax - scale * uMax;
    const share = u >= 0 ? u / uMax : u / uMin;
    return scale * u + (shift * (1 - Math.cos(Math.PI * share))) / 2;
  }
  let i = 0;
  while (i < anchorsU.length - 2 && u > anchorsU[i + 1]) i++;
  const [a, b] = [anchorsU[i], anchorsU[i + 1]];
  const [ra, rb] = [anchorsRow[i], anchorsRow[i + 1]];
  const scale = (rb - ra) / (b - a);
  const linear = ra + scale * (u - a);
  if (!(a < 0 && b > 0)) return linear;
  const atNose = ra - scale * a;
  const share = u < 0 ? u / a : u / b;
  return linear - (atNose * (1 + Math.cos(Math.PI * share))) / 2;
}

/**
 * Returns the column positions between two anchors: dense where any section turns, gently growing elsewhere, both ends
 * included. Equidistributes the spacing wanted by the most demanding section.
 */
export function columnsBetween(from: number, to: number, wanted: Float64Array, uMin: number, uMax: number): number[] {
  const bins = wanted.length;
  const width = (uMax - uMin) / bins;
  const steps = Math.max(200, Math.ceil((to - from) / width) * 2);
  const cumulative = new Float64Array(steps + 1);
  for (let i = 0; i < steps; i++) {
    const u = from + ((i + 0.5) / steps) * (to - from);
    const bin = Math.min(bins - 1, Math.max(0, Math.floor((u - uMin) / width)));
    cumulative[i + 1] = cumulative[i] + (to - from) / steps / wanted[bin];
  }
  const count = Math.max(4, Math.ceil(cumulative[steps]));
  const columns: number[] = [from];
  let i = 0;
  for (let k = 1; k < count; k++) {
    const level = (cumulative[steps] * k) / count;
    while (cumulative[i + 1] < level) i++;
    const share = (level - cumulative[i]) / (cumulative[i + 1] - cumulative[i]);
    columns.push(from + ((i + share) / steps) * (to - from));
  }
  columns.push(to);
  return columns;
}

/** Returns the column spacing wanted in bins over [uMin, uMax] (mm): the least of what the rows want, smoothly growing. */
export function wantedSpacing(rows: readonly LoftRow[], uMin: number, uMax: number): Float64Array {
  const spacing = new Float64Array(BINS_A_TURN).fill((uMax - uMin) * MAX_SHARE);
  const width = (uMax - uMin) / BINS_A_TURN;
  const binOf = (u: number): number => Math.min(BINS_A_TURN - 1, Math.max(0, Math.floor((u - uMin) / width)));
  for (const row of rows) {
    const { t } = row.table;
    for (let i = 0; i + 1 < t.length; i++) {
      let turn = 0;
      for (const part of [0.05, 0.5, 0.95]) {
        turn = Math.max(turn, Math.abs(curvatureAt(row.outline, t[i] + part * (t[i + 1] - t[i]))));
      }
      if (turn === 0) continue;
      const scale = (row.pressureLength + row.suctionLength) / (uMax - uMin);
      const want = Math.max(MAX_TURN / turn / scale, width);
      const middle = signedLength(row, (t[i] + t[i + 1]) / 2) / scale;
      const half = (row.table.length[i + 1] - row.table.length[i]) / 2 / scale + 2 * want;
      const low = binOf(middle - half);
      const high = binOf(middle + half);
      for (let b = low; b <= high; b++) spacing[b] = Math.min(spacing[b], want);
    }
  }
  const grow = GROWTH * width;
  for (let pass = 0; pass < 2; pass++) {
    for (let b = 0; b < BINS_A_TURN; b++) {
      const before = spacing[(b + BINS_A_TURN - 1) % BINS_A_TURN];
      spacing[b] = Math.min(spacing[b], before + grow);
    }
    for (let b = BINS_A_TURN - 1; b >= 0; b--) {
      const after = spacing[(b + 1) % BINS_A_TURN];
      spacing[b] = Math.min(spacing[b], after + grow);
    }
  }
  return spacing;
}

/** Signed length of an outline parameter: from the leading edge, pressure side positive, split at the trailing edge. */
export function signedLength(row: LoftRow, at: number): number {
  const ahead = lengthAtParameter(row.table, at);
  const firstSide = row.direction > 0 ? row.pressureLength : row.suctionLength;
  const signed = ahead <= firstSide + 1e-9 ? ahead : ahead - row.table.perimeter;
  return row.direction > 0 ? signed : -signed;
}
