import type { NominalSurface } from '../model/surface.ts';
import { evaluateCell, intervalOf, PLACE_SIZE } from './surface-evaluate.ts';

/** Layout of a foot: u, height, signed distance, normal (3), kind. */
export const FOOT_SIZE = 7;
/** The normal at the foot points to the measured point. */
export const FOOT_INSIDE = 0;
/** The nearest place lies at an end of the span. */
export const FOOT_AT_END = 1;
/** Not searched or not found within the distance asked for. */
export const FOOT_NONE = 2;

const MAX_STEPS = 30;
/** Heights within this share of the span of an end are at the end. */
const END_MARGIN = 1e-10;

export interface FootScratch {
  place: Float64Array;
  other: Float64Array;
}

export function footScratch(): FootScratch {
  return { place: new Float64Array(PLACE_SIZE), other: new Float64Array(PLACE_SIZE) };
}

/**
 * Writes the foot of the point (px, py, pz) on the nominal surface near the guess (u0, z0) into `out` (FOOT_SIZE):
 * u, height (mm), signed distance (mm, positive outside), unit outward normal, kind. Newton's method on the two
 * orthogonality conditions with a Gauss-Newton step wherever the Hessian is not positive definite and halved steps
 * wherever the distance would grow; the outline wraps over a smooth trailing edge and stops at corners, where the
 * distance is signed by the mean of the two normals.
 */
export function footOnSurface(
  surface: NominalSurface,
  px: number,
  py: number,
  pz: number,
  u0: number,
  z0: number,
  scratch: FootScratch,
  out: Float64Array,
): void {
  const { columns, heights } = surface;
  const place = scratch.place;
  const uMin = columns[0];
  const uMax = columns[columns.length - 1];
  const turn = uMax - uMin;
  const zMin = heights[0];
  const zMax = heights[heights.length - 1];
  const margin = END_MARGIN * (zMax - zMin);
  let z = Math.min(Math.max(z0, zMin), zMax);
  let row = intervalOf(heights, z);
  let column = intervalOf(columns, Math.min(Math.max(u0, uMin), uMax));
  let u = Math.min(Math.max(u0, columns[column]), columns[column + 1]);
  let [low, high] = stretchOf(columns, column);
  const wraps = surface.closedSmoothly;
  let crossed = false;
  let atCorner = false;
  evaluateCell(surface, column, row, u, z, place);
  for (let step = 0; step < MAX_STEPS; step++) {
    const dx = place[0] - px;
    const dy = place[1] - py;
    const dz = place[2] - pz;
    const gu = dx * place[3] + dy * place[4];
    const gz = dx * place[6] + dy * place[7] + dz * place[8];
    const guu = place[3] * place[3] + place[4] * place[4];
    const guz = place[3] * place[6] + place[4] * place[7];
    const gzz = place[6] * place[6] + place[7] * place[7] + 1;
    let huu = guu + dx * place[9] + dy * place[10];
    let huz = guz + dx * place[12] + dy * place[13];
    let hzz = gzz + dx * place[15] + dy * place[16];
    if (!(huu > 1e-3 * guu) || !(huu * hzz - huz * huz > 1e-3 * huu * gzz)) {
      huu = guu;
      huz = guz;
      hzz = gzz;
    }
    let du: number;
    let dzStep: number;
    const pinnedZ = (z <= zMin + margin && gz > 0) || (z >= zMax - margin && gz < 0);
    const pinnedU = !wraps && ((u <= low && gu > 0) || (u >= high && gu < 0));
    if (pinnedU) {
      if (!crossed) {
        // At the border of a stretch: try the neighbouring one once from the same corner.
        crossed = true;
        const next = neighbourCorner(columns, u <= low ? low : high, u <= low);
        if (next !== null) {
          column = next.column;
          u = next.u;
          [low, high] = stretchOf(columns, column);
          evaluateCell(surface, column, row, u, z, place);
          continue;
        }
      }
      atCorner = true;
      du = 0;
      dzStep = pinnedZ ? 0 : -gz / hzz;
    } else if (pinnedZ) {
      du = -gu / huu;
      dzStep = 0;
    } else {
      const det = huu * hzz - huz * huz;
      du = (-gu * hzz + gz * huz) / det;
      dzStep = (-gz * huu + gu * huz) / det;
    }
    if (!pinnedU) atCorner = false;
    // A step along the outline larger than a local radius leaves the basin of the foot.
    const before = dx * dx + dy * dy + dz * dz;
    let share = 1;
    let accepted = false;
    for (let halving = 0; halving < 12; halving++) {
      let un = u + share * du;
      const zn = Math.min(Math.max(z + share * dzStep, zMin), zMax);
      let columnNext = column;
      if (wraps) {
        if (un < uMin) un += turn;
        else if (un > uMax) un -= turn;
        columnNext = near(columns, column, un);
      } else {
        un = Math.min(Math.max(un, low), high);
        columnNext = near(columns, column, un);
        while (columns[columnNext + 1] <= low) columnNext++;
        while (columns[columnNext] >= high) columnNext--;
      }
      const rowNext = near(heights, row, zn);
      evaluateCell(surface, columnNext, rowNext, un, zn, scratch.other);
      const ex = scratch.other[0] - px;
      const ey = scratch.other[1] - py;
      const ez = scratch.other[2] - pz;
      if (ex * ex + ey * ey + ez * ez <= before * (1 + 1e-14) + 1e-24) {
        accepted = true;
        dzStep = zn - z;
        u = un;
        z = zn;
        column = columnNext;
        row = rowNext;
        place.set(scratch.other);
        break;
      }
      share *= 0.5;
    }
    if (!accepted) break;
    if (Math.abs(share * du) < 1e-11 * turn && Math.abs(dzStep) < 1e-11 * (zMax - zMin)) break;
  }
  finish(surface, px, py, pz, u, z, atCorner, column, row, scratch, out);
}

/** Signs the distance, sets the kind and writes the foot. */
function finish(
  surface: NominalSurface,
  px: number,
  py: number,
  pz: number,
  u: number,
  z: number,
  atCorner: boolean,
  column: number,
  row: number,
  scratch: FootScratch,
  out: Float64Array,
): void {
  const { columns, heights, orientation } = surface;
  const place = scratch.place;
  let nx = orientation * (place[4] * place[8]);
  let ny = orientation * (-place[3] * place[8]);
  let nz = orientation * (place[3] * place[7] - place[4] * place[6]);
  let scale = 1 / Math.hypot(nx, ny, nz);
  nx *= scale;
  ny *= scale;
  nz *= scale;
  const dx = px - place[0];
  const dy = py - place[1];
  const dz = pz - place[2];
  if (atCorner) {
    const next = neighbourCorner(columns, u, Math.abs(u - columns[column]) < Math.abs(u - columns[column + 1]));
    if (next !== null) {
      const other = scratch.other;
      evaluateCell(surface, next.column, row, next.u, z, other);
      const mx = orientation * other[4];
      const my = -orientation * other[3];
      const mz = orientation * (other[3] * other[7] - other[4] * other[6]);
      scale = 1 / Math.hypot(mx, my, mz);
      nx += mx * scale;
      ny += my * scale;
      nz += mz * scale;
      scale = 1 / Math.max(Math.hypot(nx, ny, nz), 1e-12);
      nx *= scale;
      ny *= scale;
      nz *= scale;
    }
  }
  const along = dx * nx + dy * ny + dz * nz;
  const distance = Math.hypot(dx, dy, dz);
  const zMin = heights[0];
  const zMax = heights[heights.length - 1];
  const slack = dx * place[6] + dy * place[7] + dz * place[8];
  const margin = END_MARGIN * (zMax - zMin);
  const atEnd = (z <= zMin + margin && slack < -margin) || (z >= zMax - margin && slack > margin);
  out[0] = u;
  out[1] = z;
  out[2] = atCorner || atEnd ? (along >= 0 ? distance : -distance) : along;
  out[3] = nx;
  out[4] = ny;
  out[5] = nz;
  out[6] = atEnd ? FOOT_AT_END : FOOT_INSIDE;
}

/** Interval of `value` found by walking from a nearby one; skips zero-width intervals. */
function near(grid: Float64Array, start: number, value: number): number {
  let i = start;
  const last = grid.length - 2;
  while (i < last && value > grid[i + 1]) i++;
  while (i > 0 && value < grid[i]) i--;
  if (grid[i + 1] > grid[i]) return i;
  return intervalOf(grid, value);
}

/** Ends of the stretch between corners that holds a column interval. */
function stretchOf(columns: Float64Array, column: number): [number, number] {
  let low = column;
  while (low > 0 && columns[low - 1] < columns[low]) low--;
  let high = column + 1;
  while (high < columns.length - 1 && columns[high + 1] > columns[high]) high++;
  return [columns[low], columns[high]];
}

/** The first cell beyond a corner at position `u`, seen from its left or right; wraps over the trailing edge. */
function neighbourCorner(columns: Float64Array, u: number, fromRight: boolean): { column: number; u: number } | null {
  const last = columns.length - 1;
  if (fromRight) {
    if (u <= columns[0]) return { column: last - 1, u: columns[last] };
    let i = 0;
    while (i < last && columns[i + 1] < u) i++;
    return i < last ? { column: i, u } : null;
  }
  if (u >= columns[last]) return { column: 0, u: columns[0] };
  let i = last;
  while (i > 0 && columns[i - 1] > u) i--;
  return { column: i - 1, u: columns[i - 1] };
}
