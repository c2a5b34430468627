import {
  addCyclic,
  type CyclicMatrix,
  entryCyclic,
  factorCyclic,
  inverseCyclic,
  solveCyclic,
} from '../math/banded-cyclic.ts';
import type { FlankName } from '../measure/definitions/definition.ts';
import type { NominalSurface } from '../model/surface.ts';
import type { SurfaceMap } from '../relate/surface-map.ts';
import { alongAt } from '../spatial/surface-evaluate.ts';
import {
  ACTIVE,
  addFieldEnergy,
  type FieldSpline,
  fieldAt,
  fieldAxis,
  fieldMatrix,
  fieldRow,
  zeroField,
} from './offset-field-spline.ts';

/** Distances from the noses along the outline beyond which the surface is flank (mm). */
export interface FlankWindow {
  leading: number;
  trailing: number;
}

export interface FlankOptions {
  /** Distance of the knots of the smooth field (mm). */
  spacing: number;
}

const FLANK_DEFAULTS: FlankOptions = { spacing: 3 };

/** The deviation of a measured flank from the nominal without its noise: a smooth field over (u, height). */
export interface FlankField {
  side: FlankName;
  field: FieldSpline;
  /** Inverse of the normal equations, and the standard deviation of a cell over the stated one. */
  inverse: CyclicMatrix;
  spread: number;
  /** Measured cells it stands on. */
  cells: number;
}

/** Smoothing strengths tried (mm²·mm²): bending energy against squares in standard deviations. */
const STRENGTHS = [1e-1, 1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8];
/** Fewer measured cells cannot tell a flank. */
const LEAST_CELLS = 50;
/** Standard deviation below which a cell's noise is not trusted (mm). */
const LEAST_NOISE = 1e-4;
/** Weight that keeps the field determined where there are no cells, in shares of the bending energy (1/mm⁴). */
const SIZE = 1e-9;

/**
 * Returns the smooth deviation of one flank: least Σ ((f − d) / u)² + strength · ∫ (f_uu² + 2 f_uz² + f_zz²) on even
 * bicubic splines, of the strengths tried the one of least generalised cross-validation (Craven & Wahba 1979). Only whole cells
 * outside the edges' windows count: what is cut there says nothing of the flank, which is carried on there as straight as
 * it can be, up to both noses. Null with fewer than 50 measured cells.
 */
export function flankField(
  surface: NominalSurface,
  map: SurfaceMap,
  side: FlankName,
  window: FlankWindow,
  options: FlankOptions = FLANK_DEFAULTS,
): FlankField | null {
  const data = flankCells(surface, map, side, window);
  const count = data.value.length;
  if (count < LEAST_CELLS) return null;
  const { heights } = surface;
  const { columns } = surface;
  const [from, to] = side === 'suction' ? [columns[0], 0] : [0, columns[columns.length - 1]];
  const field = zeroField(
    fieldAxis(from, to, options.spacing, false),
    fieldAxis(heights[0], heights[heights.length - 1], options.spacing, false),
  );
  const rows = { index: new Int32Array(ACTIVE * count), value: new Float64Array(ACTIVE * count) };
  const normal = fieldMatrix(field);
  const right = new Float64Array(normal.size);
  for (let i = 0; i < count; i++) {
    fieldRow(field, data.u[i], data.height[i], rows.index, rows.value, ACTIVE * i);
    for (let a = ACTIVE * i; a < ACTIVE * (i + 1); a++) {
      right[rows.index[a]] += data.weight[i] * rows.value[a] * data.value[i];
      for (let b = ACTIVE * i; b <= a; b++)
        addCyclic(normal, rows.index[a], rows.index[b], data.weight[i] * rows.value[a] * rows.value[b]);
    }
  }
  let best: { score: number; coefficients: Float64Array; inverse: CyclicMatrix; spread: number } | null = null;
  for (const strength of STRENGTHS) {
    const matrix: CyclicMatrix = { ...normal, bands: normal.bands.slice(), rows: normal.rows.slice() };
    addFieldEnergy(matrix, field, strength, SIZE * strength);
    if (!factorCyclic(matrix)) continue;
    const coefficients = right.slice();
    solveCyclic(matrix, coefficients);
    const inverse = inverseCyclic(matrix);
    let squares = 0;
    for (let i = 0; i < count; i++) {
      let fitted = 0;
      for (let a = ACTIVE * i; a < ACTIVE * (i + 1); a++) fitted += rows.value[a] * coefficients[rows.index[a]];
      squares += data.weight[i] * (fitted - data.value[i]) ** 2;
    }
    const free = count - freedom(normal, inverse);
    const score = (count * squares) / (free * free);
    if (!(free > 0) || (best && score >= best.score)) continue;
    best = { score, coefficients, inverse, spread: Math.sqrt(squares / free) };
  }
  if (!best) return null;
  const { coefficients, inverse, spread } = best;
  return { side, field: { ...field, coefficients }, inverse, spread: Math.max(1, spread), cells: count };
}

/** Returns the flank's deviation at a place and its standard uncertainty (mm). */
export function flankOffset(flank: FlankField, u: number, height: number): { value: number; u: number } {
  fieldRow(flank.field, u, height, oneIndex, oneValue, 0);
  let sum = 0;
  for (let a = 0; a < ACTIVE; a++)
    for (let b = 0; b < ACTIVE; b++)
      sum += oneValue[a] * oneValue[b] * entryCyclic(flank.inverse, oneIndex[a], oneIndex[b]);
  return { value: fieldAt(flank.field, u, height), u: flank.spread * Math.sqrt(Math.max(0, sum)) };
}

const oneIndex = new Int32Array(ACTIVE);
const oneValue = new Float64Array(ACTIVE);

/** Trace of (normal equations without smoothing) × (inverse with it): the freedom the fit spends. */
function freedom(normal: CyclicMatrix, inverse: CyclicMatrix): number {
  const { size, band, bands } = normal;
  let sum = 0;
  for (let j = 0; j < size; j++) {
    const at = j * (band + 1);
    sum += bands[at] * inverse.bands[at];
    for (let d = 1; d <= Math.min(band, size - 1 - j); d++) sum += 2 * bands[at + d] * inverse.bands[at + d];
  }
  return sum;
}

interface FlankCells {
  u: number[];
  height: number[];
  value: number[];
  weight: number[];
}

function flankCells(surface: NominalSurface, map: SurfaceMap, side: FlankName, window: FlankWindow): FlankCells {
  const { columnBorders, heights, along } = map.cells;
  const columns = columnBorders.length - 1;
  const uEnd = side === 'suction' ? surface.columns[0] : surface.columns[surface.columns.length - 1];
  const data: FlankCells = { u: [], height: [], value: [], weight: [] };
  for (let r = 0; r < heights.length; r++) {
    const end = Math.abs(alongAt(surface, uEnd, heights[r]));
    for (let c = 0; c < columns; c++) {
      const m = r * columns + c;
      const place = side === 'suction' ? -along[m] : along[m];
      const half = (columnBorders[c + 1] - columnBorders[c]) / 2;
      if (place - half < window.leading || place + half > end - window.trailing) continue;
      if (!Number.isFinite(map.deviation[m])) continue;
      data.u.push((columnBorders[c] + columnBorders[c + 1]) / 2);
      data.height.push(heights[r]);
      data.value.push(map.deviation[m]);
      const u = Math.max(map.u[m], LEAST_NOISE);
      data.weight.push(1 / (u * u));
    }
  }
  return data;
}
