import type { NominalSurface } from '../model/surface.ts';

/** Layout of an evaluated place: S, Su, Sz, Suu, Suz, Szz, three numbers each. */
export const PLACE_SIZE = 18;

/** Index of the interval of a non-decreasing grid that holds `value`, clamped; never a zero-width interval. */
export function intervalOf(grid: Float64Array, value: number): number {
  let low = 0;
  let high = grid.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (grid[middle] <= value) low = middle;
    else high = middle;
  }
  while (low > 0 && grid[low + 1] <= grid[low]) low--;
  while (low < grid.length - 2 && grid[low + 1] <= grid[low]) low++;
  return low;
}

/**
 * Writes the surface point and its first and second derivatives at (u, z) into `out` (see PLACE_SIZE; mm, blade
 * frame). Bicubic Hermite evaluation in the turning frame, then rotation by the interpolated twist. `column` and `row`
 * name the cell; outside it the cell's polynomial continues.
 */
export function evaluateCell(
  surface: NominalSurface,
  column: number,
  row: number,
  u: number,
  z: number,
  out: Float64Array,
): void {
  const { columns, heights, nodes } = surface;
  const hu = columns[column + 1] - columns[column];
  const hz = heights[row + 1] - heights[row];
  const s = (u - columns[column]) / hu;
  const t = (z - heights[row]) / hz;

  // Hermite basis and derivatives; slopes are per mm, hence the factors of hu and hz.
  const s2 = s * s;
  const s3 = s2 * s;
  const a0 = 2 * s3 - 3 * s2 + 1;
  const a1 = (s3 - 2 * s2 + s) * hu;
  const a2 = 3 * s2 - 2 * s3;
  const a3 = (s3 - s2) * hu;
  const d0 = (6 * s2 - 6 * s) / hu;
  const d1 = 3 * s2 - 4 * s + 1;
  const d3 = 3 * s2 - 2 * s;
  const e0 = (12 * s - 6) / (hu * hu);
  const e1 = (6 * s - 4) / hu;
  const e3 = (6 * s - 2) / hu;
  const t2 = t * t;
  const t3 = t2 * t;
  const b0 = 2 * t3 - 3 * t2 + 1;
  const b1 = (t3 - 2 * t2 + t) * hz;
  const b2 = 3 * t2 - 2 * t3;
  const b3 = (t3 - t2) * hz;
  const f0 = (6 * t2 - 6 * t) / hz;
  const f1 = 3 * t2 - 4 * t + 1;
  const f3 = 3 * t2 - 2 * t;
  const g0 = (12 * t - 6) / (hz * hz);
  const g1 = (6 * t - 4) / hz;
  const g3 = (6 * t - 2) / hz;

  // Along the outline at the lower (l) and upper (h) row: values, z slopes and their u derivatives; then across rows.
  const at = (row * columns.length + column) * 8;
  const up = at + columns.length * 8;
  const lx = a0 * nodes[at] + a1 * nodes[at + 2] + a2 * nodes[at + 8] + a3 * nodes[at + 10];
  const lxu = d0 * (nodes[at] - nodes[at + 8]) + d1 * nodes[at + 2] + d3 * nodes[at + 10];
  const lxuu = e0 * (nodes[at] - nodes[at + 8]) + e1 * nodes[at + 2] + e3 * nodes[at + 10];
  const lxz = a0 * nodes[at + 4] + a1 * nodes[at + 6] + a2 * nodes[at + 12] + a3 * nodes[at + 14];
  const lxzu = d0 * (nodes[at + 4] - nodes[at + 12]) + d1 * nodes[at + 6] + d3 * nodes[at + 14];
  const lxzuu = e0 * (nodes[at + 4] - nodes[at + 12]) + e1 * nodes[at + 6] + e3 * nodes[at + 14];
  const ly = a0 * nodes[at + 1] + a1 * nodes[at + 3] + a2 * nodes[at + 9] + a3 * nodes[at + 11];
  const lyu = d0 * (nodes[at + 1] - nodes[at + 9]) + d1 * nodes[at + 3] + d3 * nodes[at + 11];
  const lyuu = e0 * (nodes[at + 1] - nodes[at + 9]) + e1 * nodes[at + 3] + e3 * nodes[at + 11];
  const lyz = a0 * nodes[at + 5] + a1 * nodes[at + 7] + a2 * nodes[at + 13] + a3 * nodes[at + 15];
  const lyzu = d0 * (nodes[at + 5] - nodes[at + 13]) + d1 * nodes[at + 7] + d3 * nodes[at + 15];
  const lyzuu = e0 * (nodes[at + 5] - nodes[at + 13]) + e1 * nodes[at + 7] + e3 * nodes[at + 15];
  const hx = a0 * nodes[up] + a1 * nodes[up + 2] + a2 * nodes[up + 8] + a3 * nodes[up + 10];
  const hxu = d0 * (nodes[up] - nodes[up + 8]) + d1 * nodes[up + 2] + d3 * nodes[up + 10];
  const hxuu = e0 * (nodes[up] - nodes[up + 8]) + e1 * nodes[up + 2] + e3 * nodes[up + 10];
  const hxz = a0 * nodes[up + 4] + a1 * nodes[up + 6] + a2 * nodes[up + 12] + a3 * nodes[up + 14];
  const hxzu = d0 * (nodes[up + 4] - nodes[up + 12]) + d1 * nodes[up + 6] + d3 * nodes[up + 14];
  const hxzuu = e0 * (nodes[up + 4] - nodes[up + 12]) + e1 * nodes[up + 6] + e3 * nodes[up + 14];
  const hy = a0 * nodes[up + 1] + a1 * nodes[up + 3] + a2 * nodes[up + 9] + a3 * nodes[up + 11];
  const hyu = d0 * (nodes[up + 1] - nodes[up + 9]) + d1 * nodes[up + 3] + d3 * nodes[up + 11];
  const hyuu = e0 * (nodes[up + 1] - nodes[up + 9]) + e1 * nodes[up + 3] + e3 * nodes[up + 11];
  const hyz = a0 * nodes[up + 5] + a1 * nodes[up + 7] + a2 * nodes[up + 13] + a3 * nodes[up + 15];
  const hyzu = d0 * (nodes[up + 5] - nodes[up + 13]) + d1 * nodes[up + 7] + d3 * nodes[up + 15];
  const hyzuu = e0 * (nodes[up + 5] - nodes[up + 13]) + e1 * nodes[up + 7] + e3 * nodes[up + 15];
  const qx = b0 * lx + b1 * lxz + b2 * hx + b3 * hxz;
  const qux = b0 * lxu + b1 * lxzu + b2 * hxu + b3 * hxzu;
  const quux = b0 * lxuu + b1 * lxzuu + b2 * hxuu + b3 * hxzuu;
  const qzx = f0 * (lx - hx) + f1 * lxz + f3 * hxz;
  const quzx = f0 * (lxu - hxu) + f1 * lxzu + f3 * hxzu;
  const qzzx = g0 * (lx - hx) + g1 * lxz + g3 * hxz;
  const qy = b0 * ly + b1 * lyz + b2 * hy + b3 * hyz;
  const quy = b0 * lyu + b1 * lyzu + b2 * hyu + b3 * hyzu;
  const quuy = b0 * lyuu + b1 * lyzuu + b2 * hyuu + b3 * hyzuu;
  const qzy = f0 * (ly - hy) + f1 * lyz + f3 * hyz;
  const quzy = f0 * (lyu - hyu) + f1 * lyzu + f3 * hyzu;
  const qzzy = g0 * (ly - hy) + g1 * lyz + g3 * hyz;

  const { twist, twistSlope, centreX, centreY, centreXSlope, centreYSlope } = surface;
  const r = row;
  const angle = b0 * twist[r] + b1 * twistSlope[r] + b2 * twist[r + 1] + b3 * twistSlope[r + 1];
  const w1 = f0 * (twist[r] - twist[r + 1]) + f1 * twistSlope[r] + f3 * twistSlope[r + 1];
  const w2 = g0 * (twist[r] - twist[r + 1]) + g1 * twistSlope[r] + g3 * twistSlope[r + 1];
  const cx = b0 * centreX[r] + b1 * centreXSlope[r] + b2 * centreX[r + 1] + b3 * centreXSlope[r + 1];
  const cy = b0 * centreY[r] + b1 * centreYSlope[r] + b2 * centreY[r + 1] + b3 * centreYSlope[r + 1];
  const cx1 = f0 * (centreX[r] - centreX[r + 1]) + f1 * centreXSlope[r] + f3 * centreXSlope[r + 1];
  const cy1 = f0 * (centreY[r] - centreY[r + 1]) + f1 * centreYSlope[r] + f3 * centreYSlope[r + 1];
  const cx2 = g0 * (centreX[r] - centreX[r + 1]) + g1 * centreXSlope[r] + g3 * centreXSlope[r + 1];
  const cy2 = g0 * (centreY[r] - centreY[r + 1]) + g1 * centreYSlope[r] + g3 * centreYSlope[r + 1];
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);

  // In the turning frame: d/dz of R q is R (q_z + w J q), with J the quarter turn.
  const zx = qzx - w1 * qy;
  const zy = qzy + w1 * qx;
  const uzx = quzx - w1 * quy;
  const uzy = quzy + w1 * qux;
  const zzx = qzzx - 2 * w1 * qzy - w2 * qy - w1 * w1 * qx;
  const zzy = qzzy + 2 * w1 * qzx + w2 * qx - w1 * w1 * qy;
  out[0] = cos * qx - sin * qy + cx;
  out[1] = sin * qx + cos * qy + cy;
  out[2] = z;
  out[3] = cos * qux - sin * quy;
  out[4] = sin * qux + cos * quy;
  out[5] = 0;
  out[6] = cos * zx - sin * zy + cx1;
  out[7] = sin * zx + cos * zy + cy1;
  out[8] = 1;
  out[9] = cos * quux - sin * quuy;
  out[10] = sin * quux + cos * quuy;
  out[11] = 0;
  out[12] = cos * uzx - sin * uzy;
  out[13] = sin * uzx + cos * uzy;
  out[14] = 0;
  out[15] = cos * zzx - sin * zzy + cx2;
  out[16] = sin * zzx + cos * zzy + cy2;
  out[17] = 0;
}

/** As evaluateCell, finding the cell; `u` and `z` are clamped to the surface. */
export function evaluateSurface(surface: NominalSurface, u: number, z: number, out: Float64Array): void {
  const { columns, heights } = surface;
  const uu = Math.min(Math.max(u, columns[0]), columns[columns.length - 1]);
  const zz = Math.min(Math.max(z, heights[0]), heights[heights.length - 1]);
  evaluateCell(surface, intervalOf(columns, uu), intervalOf(heights, zz), uu, zz, out);
}

/** Writes the outward unit normal of an evaluated place at `normal[at]…`. */
export function placeNormal(surface: NominalSurface, place: Float64Array, normal: Float64Array, at = 0): void {
  const sign = surface.orientation;
  const nx = place[4] * place[8] - place[5] * place[7];
  const ny = place[5] * place[6] - place[3] * place[8];
  const nz = place[3] * place[7] - place[4] * place[6];
  const scale = sign / Math.sqrt(nx * nx + ny * ny + nz * nz);
  normal[at] = nx * scale;
  normal[at + 1] = ny * scale;
  normal[at + 2] = nz * scale;
}

/**
 * Returns the true length along the outline from the leading edge at (u, z) (mm, suction side negative), linear between
 * the tabulated columns and rows (the columns are spaced so that length is all but linear in `u` between them).
 */
export function alongAt(surface: NominalSurface, u: number, z: number): number {
  const { columns, heights, along } = surface;
  const uu = Math.min(Math.max(u, columns[0]), columns[columns.length - 1]);
  const zz = Math.min(Math.max(z, heights[0]), heights[heights.length - 1]);
  const c = intervalOf(columns, uu);
  const r = intervalOf(heights, zz);
  const s = (uu - columns[c]) / (columns[c + 1] - columns[c]);
  const t = (zz - heights[r]) / (heights[r + 1] - heights[r]);
  const n = columns.length;
  const low = along[r * n + c] * (1 - s) + along[r * n + c + 1] * s;
  const high = along[(r + 1) * n + c] * (1 - s) + along[(r + 1) * n + c + 1] * s;
  return low * (1 - t) + high * t;
}
