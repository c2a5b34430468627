import { CamberwrightError } from '../error.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { StockCells, StockZone } from '../model/stock-cells.ts';
import { type AxisFrame, turnAxes } from './share-axes.ts';

const DEG = Math.PI / 180;

/** Stock on the measured cells of zones, linear in the six values of the placement. Turns are scaled to lengths. */
export interface StockRows {
  count: number;
  zones: readonly StockZone[];
  /** Index of the cell and of its zone. */
  cell: Int32Array;
  zone: Int32Array;
  /** Area (mm²), stock and spare (stock − wanted) / weight (mm). */
  area: Float64Array;
  stock: Float64Array;
  spare: Float64Array;
  /** Change of the stock by each value, six a row (mm a mm, and mm a mm at the length below). */
  slope: Float64Array;
  /** Unit of each value in those of the rows: 1 mm, and the degrees that move a point at the length by 1 mm. */
  unit: Float64Array;
}

/**
 * Returns the rows of a placement. A blank's point q above the cell's foot p moves by w × (q − c − T) + v, and the
 * stock changes by the normal part of it; that the foot slides is of second order where the stock is least or most.
 * @param values the placement's six values, see {@link AxisFrame}
 * @param length distance at which a turn is compared with a shift (mm)
 * @param factor times the standard uncertainty of the stock that is wanted besides the least
 * @throws `plan/value` for a zone whose share is not positive
 */
export function stockRows(
  cells: StockCells,
  zones: readonly StockZone[],
  values: Float64Array,
  frame: Omit<AxisFrame, 'from'>,
  length: number,
  factor = 0,
): StockRows {
  checkShares(zones);
  const used = measuredCells(cells);
  const count = used.length;
  const slope = new Float64Array(6 * count);
  const [ax, ay, az] = turnAxes(values, frame.rotationOrder).map(
    (axis): Vec3 => [axis[0] / length, axis[1] / length, axis[2] / length],
  );
  const centre = frame.pivot.map((c, k) => c + values[k]);
  const { normal: n, stock } = cells;
  const moment: Vec3 = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    const k = 3 * used[i];
    cellMoment(cells, used[i], centre, moment);
    const [mx, my, mz] = moment;
    const at = 6 * i;
    slope[at] = n[k];
    slope[at + 1] = n[k + 1];
    slope[at + 2] = n[k + 2];
    slope[at + 3] = mx * ax[0] + my * ax[1] + mz * ax[2];
    slope[at + 4] = mx * ay[0] + my * ay[1] + mz * ay[2];
    slope[at + 5] = mx * az[0] + my * az[1] + mz * az[2];
  }
  const zone = Int32Array.from(used, (i) => cells.zone[i]);
  const spare = Float64Array.from(used, (i) => spareOf(stock[i], cells, i, zones, factor));
  return {
    count,
    zones,
    cell: used,
    zone,
    area: Float64Array.from(used, (i) => cells.area[i]),
    stock: Float64Array.from(used, (i) => stock[i]),
    spare,
    slope,
    unit: Float64Array.of(1, 1, 1, ...new Float64Array(3).fill(1 / (DEG * length))),
  };
}

/** Writes (q − c) × n of a cell (mm): how a turn about `c` changes the stock at the blank's point q. */
export function cellMoment({ point: p, normal: n }: StockCells, cell: number, c: ArrayLike<number>, out: Vec3): void {
  const k = 3 * cell;
  // q and the foot p lie on one normal: (q − c) × n = (p − c) × n.
  const rx = p[k] - c[0];
  const ry = p[k + 1] - c[1];
  const rz = p[k + 2] - c[2];
  out[0] = ry * n[k + 2] - rz * n[k + 1];
  out[1] = rz * n[k] - rx * n[k + 2];
  out[2] = rx * n[k + 1] - ry * n[k];
}

/**
 * Returns the spare (stock − wanted) / weight (mm) of a cell that belongs to a zone.
 * @param stock of the cell (mm)
 * @param factor times the cell's standard uncertainty that is wanted besides the zone's least
 */
export function spareOf(
  stock: number,
  { zone, uStock }: StockCells,
  cell: number,
  zones: readonly StockZone[],
  factor: number,
): number {
  const { least, weight } = zones[zone[cell]];
  return (stock - least - (factor === 0 ? 0 : factor * uStock[cell])) / weight;
}

/** @throws `plan/value` */
function checkShares(zones: readonly StockZone[]): void {
  const bad = zones.find(({ weight }) => !(weight > 0));
  if (bad === undefined) return;
  throw new CamberwrightError('plan/value', `The share of the zone '${bad.name}' is ${bad.weight}.`, {
    remedy: 'Give every zone a share above 0.',
  });
}

/** Cells with stock that belong to a zone. */
function measuredCells(cells: StockCells): Int32Array {
  const used: number[] = [];
  for (let i = 0; i < cells.count; i++) if (cells.zone[i] >= 0 && !Number.isNaN(cells.stock[i])) used.push(i);
  return Int32Array.from(used);
}

/** Root mean square distance of the measured cells from a point (mm). */
export function cellDistance(cells: StockCells, from: Vec3): number {
  let sum = 0;
  const used = measuredCells(cells);
  for (const i of used) for (let c = 0; c < 3; c++) sum += (cells.point[3 * i + c] - from[c]) ** 2;
  return used.length > 0 ? Math.max(Math.sqrt(sum / used.length), 1e-3) : 1;
}

/** Change of a row's stock by a step of the six scaled values (mm). */
export function rowChange(slope: Float64Array, row: number, step: ArrayLike<number>): number {
  const at = 6 * row;
  return (
    slope[at] * step[0] +
    slope[at + 1] * step[1] +
    slope[at + 2] * step[2] +
    slope[at + 3] * step[3] +
    slope[at + 4] * step[4] +
    slope[at + 5] * step[5]
  );
}
