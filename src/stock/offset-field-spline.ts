import { addCyclic, type CyclicMatrix, cyclicMatrix } from '../math/banded-cyclic.ts';

/** Even cubic B-splines along one axis of a field. */
export interface FieldAxis {
  from: number;
  step: number;
  spans: number;
  /** The end joins the start smoothly. */
  closed: boolean;
}

/**
 * A smooth scalar field over (u, height): tensor product of even cubic B-splines. Coefficient of the i-th function along
 * `u` and the j-th along the height at i × (functions along the height) + j.
 */
export interface FieldSpline {
  u: FieldAxis;
  height: FieldAxis;
  coefficients: Float64Array;
}

/** Functions that are not zero at one place. */
export const ACTIVE = 16;

/** 4-point Gauss-Legendre rule on [0, 1]: exact for products of cubics. */
const GAUSS = [0.0694318442029737, 0.3300094782075719, 0.6699905217924281, 0.9305681557970263];
const WEIGHT = [0.1739274225687269, 0.3260725774312731, 0.3260725774312731, 0.1739274225687269];

/** Returns an axis of even spans near a wanted width (mm). */
export function fieldAxis(from: number, to: number, width: number, closed: boolean): FieldAxis {
  const spans = Math.max(closed ? 7 : 1, Math.round((to - from) / width));
  return { from, step: (to - from) / spans, spans, closed };
}

/** Number of functions along an axis. */
function axisSize(axis: FieldAxis): number {
  return axis.closed ? axis.spans : axis.spans + 3;
}

/** Returns a field that is zero everywhere. */
export function zeroField(u: FieldAxis, height: FieldAxis): FieldSpline {
  return { u, height, coefficients: new Float64Array(axisSize(u) * axisSize(height)) };
}

/** Writes the four functions (order 0), or their first or second derivatives, at a share 0 … 1 of a span. */
function cardinal(share: number, step: number, order: 0 | 1 | 2, out: Float64Array): void {
  const s = share;
  const r = 1 - s;
  if (order === 0) {
    out[0] = (r * r * r) / 6;
    out[1] = (3 * s * s * s - 6 * s * s + 4) / 6;
    out[2] = (3 * r * r * r - 6 * r * r + 4) / 6;
    out[3] = (s * s * s) / 6;
  } else if (order === 1) {
    out[0] = (-r * r) / (2 * step);
    out[1] = (3 * s * s - 4 * s) / (2 * step);
    out[2] = (4 * r - 3 * r * r) / (2 * step);
    out[3] = (s * s) / (2 * step);
  } else {
    const square = step * step;
    out[0] = r / square;
    out[1] = (3 * s - 2) / square;
    out[2] = (3 * r - 2) / square;
    out[3] = s / square;
  }
}

const alongU = new Float64Array(4);
const alongHeight = new Float64Array(4);

/** Span that holds a value, the ends' spans carried on beyond them unless the axis is closed; and the share within it. */
function spanOf(axis: FieldAxis, value: number): [number, number] {
  const place = (value - axis.from) / axis.step;
  if (axis.closed) {
    const wrapped = place - axis.spans * Math.floor(place / axis.spans);
    const span = Math.min(axis.spans - 1, Math.floor(wrapped));
    return [span, wrapped - span];
  }
  const span = Math.min(axis.spans - 1, Math.max(0, Math.floor(place)));
  return [span, Math.min(1, Math.max(0, place - span))];
}

/** Writes numbers and values of the 16 functions at a place, at `at` of both arrays. Beyond open ends: those at the end. */
export function fieldRow(
  field: FieldSpline,
  u: number,
  height: number,
  index: Int32Array,
  value: Float64Array,
  at: number,
): void {
  const [spanU, shareU] = spanOf(field.u, u);
  const [spanHeight, shareHeight] = spanOf(field.height, height);
  const columns = axisSize(field.u);
  const rows = axisSize(field.height);
  cardinal(shareU, field.u.step, 0, alongU);
  cardinal(shareHeight, field.height.step, 0, alongHeight);
  for (let a = 0; a < 4; a++)
    for (let b = 0; b < 4; b++) {
      index[at + 4 * a + b] = ((spanU + a) % columns) * rows + spanHeight + b;
      value[at + 4 * a + b] = alongU[a] * alongHeight[b];
    }
}

const oneIndex = new Int32Array(ACTIVE);
const oneValue = new Float64Array(ACTIVE);

/** Returns the field at a place. */
export function fieldAt(field: FieldSpline, u: number, height: number): number {
  fieldRow(field, u, height, oneIndex, oneValue, 0);
  let sum = 0;
  for (let k = 0; k < ACTIVE; k++) sum += oneValue[k] * field.coefficients[oneIndex[k]];
  return sum;
}

/** Returns an all-zero matrix over the field's coefficients; those that close the field round are its dense rows. */
export function fieldMatrix(field: FieldSpline): CyclicMatrix {
  const rows = axisSize(field.height);
  return cyclicMatrix(axisSize(field.u) * rows, 3 * rows + 3, field.u.closed ? 3 * rows : 0);
}

/**
 * Adds `bending` · ∫ (f_uu² + 2 f_uz² + f_zz²) + `size` · ∫ f² over the field, as a quadratic form of the coefficients
 * (xᵀ M x): the bending energy of a thin plate and the field's own size.
 */
export function addFieldEnergy(matrix: CyclicMatrix, field: FieldSpline, bending: number, size: number): void {
  const [u0, u1, u2] = [gram(field.u, 0), gram(field.u, 1), gram(field.u, 2)];
  const [z0, z1, z2] = [gram(field.height, 0), gram(field.height, 1), gram(field.height, 2)];
  const columns = axisSize(field.u);
  const rows = axisSize(field.height);
  for (let i = 0; i < columns; i++)
    for (let di = -3; di <= 3; di++) {
      const k = field.u.closed ? (i + di + columns) % columns : i + di;
      if (k < 0 || k >= columns) continue;
      for (let j = 0; j < rows; j++)
        for (let dj = -3; dj <= 3; dj++) {
          const l = j + dj;
          if (l < 0 || l >= rows) continue;
          const [a, b] = [i * rows + j, k * rows + l];
          if (b > a) continue;
          const [p, q] = [7 * i + di + 3, 7 * j + dj + 3];
          const value = bending * (u2[p] * z0[q] + 2 * u1[p] * z1[q] + u0[p] * z2[q]) + size * u0[p] * z0[q];
          addCyclic(matrix, a, b, value);
        }
    }
}

/** Integrals of products of two functions' derivatives, function i with i + d at 7 i + d + 3. */
function gram(axis: FieldAxis, order: 0 | 1 | 2): Float64Array {
  const size = axisSize(axis);
  const sums = new Float64Array(7 * size);
  const values = new Float64Array(4);
  for (let span = 0; span < axis.spans; span++)
    for (let g = 0; g < 4; g++) {
      cardinal(GAUSS[g], axis.step, order, values);
      for (let a = 0; a < 4; a++)
        for (let b = 0; b < 4; b++)
          sums[7 * ((span + a) % size) + b - a + 3] += WEIGHT[g] * axis.step * values[a] * values[b];
    }
  return sums;
}
