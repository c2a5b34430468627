import type { LimitsAt } from '../judge/map-places.ts';
import type { StockCells, StockZone } from '../model/stock-cells.ts';
import type { NominalSurface } from '../model/surface.ts';
import { alongAt } from '../spatial/surface-evaluate.ts';
import { type BoundedForm, boundedForm } from './offset-field-programme.ts';
import {
  ACTIVE,
  addFieldEnergy,
  type FieldSpline,
  fieldAxis,
  fieldMatrix,
  fieldRow,
  zeroField,
} from './offset-field-spline.ts';
import { spareStock } from './stock-extremes.ts';

/** How fine and how near to the limits an offset field may be. */
export interface OffsetFieldOptions {
  /** Distance of the field's knots (mm): no change is shorter than about twice that. */
  spacing: number;
  /** Length over which the field fades where nothing asks for it (mm). */
  reach: number;
  /** Share of the profile band left free inside either limit (mm). */
  margin: number;
  /** Amount beyond a limit that counts as kept (mm). */
  tolerance: number;
}

export const OFFSET_FIELD_DEFAULTS: OffsetFieldOptions = { spacing: 4, reach: 8, margin: 0.005, tolerance: 1e-6 };

/** What the nominal is moved for. Lengths in mm. */
export interface OffsetFieldInput {
  surface: NominalSurface;
  /** Stock of the blank over the nominal, from `stockCells`. */
  cells: StockCells;
  zones: readonly StockZone[];
  /** Profile limits of the finished surface; where they give none the nominal must stay. */
  limits: LimitsAt;
  /** Times the standard uncertainty of a cell's stock that is wanted on top, and what all stock's share of it is (mm). */
  factor: number;
  stated: number;
}

/** How the nominal may be moved so that the blank cleans up, or why it cannot. */
export interface OffsetField {
  /** Offset along the outward normal over (u, height) (mm); null when there is none. */
  field: FieldSpline | null;
  /** Largest amount by which a cell cannot be had (mm, 0 when the field is found), and that cell (−1: none). */
  short: number;
  cell: number;
  /** Pull of each cell: positive where its stock or the upper limit holds the field, negative at the lower limit. */
  pull: Float64Array;
  /** True where too little stock, and not the profile, is the upper limit of a cell. */
  byStock: Uint8Array;
}

/**
 * Returns the smoothest, smallest offset of the nominal that leaves at every measured cell the stock wanted and stays
 * within the profile limits: least ∫ (o_uu² + 2 o_uz² + o_zz²) + ∫ o² / reach⁴, a convex quadratic programme on even
 * bicubic splines. Without such an offset it says where the limits are farthest apart or cannot be met, and by how much.
 */
export function offsetField(input: OffsetFieldInput, options: OffsetFieldOptions = OFFSET_FIELD_DEFAULTS): OffsetField {
  const { surface, cells } = input;
  const { columns, heights } = surface;
  const field = zeroField(
    fieldAxis(columns[0], columns[columns.length - 1], options.spacing, surface.closedSmoothly),
    fieldAxis(heights[0], heights[heights.length - 1], options.spacing, false),
  );
  const { lower, upper, byStock } = offsetLimits(input, options.margin);
  const none = { field: null, pull: new Float64Array(cells.count), byStock };
  let [short, cell] = [0, -1];
  for (let k = 0; k < cells.count; k++) if (lower[k] - upper[k] > short) [short, cell] = [lower[k] - upper[k], k];
  if (short > options.tolerance) return { ...none, short, cell };
  const form: BoundedForm = {
    energy: fieldMatrix(field),
    index: new Int32Array(ACTIVE * cells.count),
    value: new Float64Array(ACTIVE * cells.count),
    lower,
    upper,
  };
  for (let k = 0; k < cells.count; k++)
    fieldRow(field, cells.u[k], cells.height[k], form.index, form.value, ACTIVE * k);
  addFieldEnergy(form.energy, field, 1, 1 / options.reach ** 4);
  const solved = boundedForm(form, options.tolerance);
  if (!solved.converged) return { ...none, short: solved.beyond, cell: solved.row, pull: solved.pull };
  return { field: { ...field, coefficients: solved.x }, short: 0, cell: -1, pull: solved.pull, byStock };
}

/** Least and most offset of each cell (mm). */
function offsetLimits(input: OffsetFieldInput, margin: number) {
  const { surface, cells, zones, limits, factor, stated } = input;
  const ends = [surface.columns[0], surface.columns[surface.columns.length - 1]];
  const lower = new Float64Array(cells.count);
  const upper = new Float64Array(cells.count);
  const byStock = new Uint8Array(cells.count);
  for (let k = 0; k < cells.count; k++) {
    const height = cells.height[k];
    const band = limits(height, cells.along[k], alongAt(surface, ends[0], height), alongAt(surface, ends[1], height));
    lower[k] = Math.min(0, (band.lower ?? 0) + margin);
    upper[k] = Math.max(0, (band.upper ?? 0) - margin);
    if (!Number.isFinite(cells.stock[k]) || cells.zone[k] < 0) continue;
    const most = spareStock(cells.stock[k], cells, k, zones, factor, stated);
    if (most >= upper[k]) continue;
    upper[k] = most;
    byStock[k] = 1;
  }
  return { lower, upper, byStock };
}
