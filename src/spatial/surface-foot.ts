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
/** Last Newton step as a share of the turn and the span; what is left of the error is about its square over the radius. */
const SETTLED = 3e-8;
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
  let { place, other } = scratch;
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
  const wraps = surface.closedSmoothly;
  // A smooth outline is one stretch; finding it would be most of the work.
  let low = wraps ? uMin : stretchStart(columns, column);
  let high = wraps ? uMax : stretchEnd(columns, column);
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
          low = stretchStart(columns, column);
          high = stretchEnd(columns, column);
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
    // A step below rounding's reach is taken unseen: the distance no longer tells.
    const isLast = Math.abs(du) < SETTLED * turn && Math.abs(dzStep) < SETTLED * (zMax - zMin);
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
      evaluateCell(surface, columnNext, rowNext, un, zn, other);
      const ex = other[0] - px;
      const ey = other[1] - py;
      const ez = other[2] - pz;
      if (isLast || ex * ex + ey * ey + ez * ez <= before) {
        accepted = true;
        dzStep = zn - z;
        u = un;
        z = zn;
        column = columnNext;
        row = rowNext;
        const seen = place;
        place = other;
        other = seen;
        break;
      }
      share *= 0.5;
    }
    if (!accepted || isLast) break;
  }
  finish(surface, px, py, pz, u, z, atCorner, column, row, place, other, out);
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
  place: Float64Array,
  other: Float64Array,
  out: Float64Array,
): void {
  const { columns, heights, orientation } = surface;
  let nx = orientation * (place[4] * place[8]);
  let ny = orientation * (-place[3] * place[8]);
  let nz = orientation * (place[3] * place[7] - place[4] * place[6]);
  let scale = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz);
  nx *= scale;
  ny *= scale;
  nz *= scale;
  const dx = px - place[0];
  const dy = py - place[1];
  const dz = pz - place[2];
  if (atCorner) {
    const next = neighbourCorner(columns, u, Math.abs(u - columns[column]) < Math.abs(u - columns[column + 1]));
    if (next !== null) {
      evaluateCell(surface, next.column, row, next.u, z, other);
      const mx = orientation * other[4];
      const my = -orientation * other[3];
      const mz = orientation * (other[3] * other[7] - other[4] * other[6]);
      scale = 1 / Math.sqrt(mx * mx + my * my + mz * mz);
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
  const distance = Math.sqrt(dx * dx + dy * dy + dz * dz);
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

/** Where the stretch between corners that holds a column interval begins. */
function stretchStart(columns: Float64Array, column: number): number {
  let low = column;
  while (low > 0 && columns[low - 1] < columns[low]) low--;
  return columns[low];
}

/** Where it ends. */
function stretchEnd(columns: Float64Array, column: number): number {
  let high = column + 1;
  while (high < columns.length - 1 && columns[high + 1] > columns[high]) high++;
  return columns[high];
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
