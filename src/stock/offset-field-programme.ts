import { addCyclic, type CyclicMatrix, factorCyclic, solveCyclic } from '../math/banded-cyclic.ts';
import { ACTIVE } from './offset-field-spline.ts';

/** Least ½ xᵀ P x with lower <= A x <= upper, A having a few entries a row. */
export interface BoundedForm {
  /** P, positive definite. */
  energy: CyclicMatrix;
  /** Column numbers and values of the rows of A, 16 a row. */
  index: Int32Array;
  value: Float64Array;
  lower: Float64Array;
  upper: Float64Array;
}

/** The least of a bounded form, or what was reached of it. */
export interface BoundedSolution {
  x: Float64Array;
  /** Pull of each row: positive at its upper limit, negative at its lower one. */
  pull: Float64Array;
  /** Largest amount by which a row is beyond its limits, and that row (−1: none). */
  beyond: number;
  row: number;
  converged: boolean;
}

const MOST_ROUNDS = 40;
const MOST_STEPS = 60;
const FIRST_PENALTY = 1;
const MOST_PENALTY = 1e9;
/** A Newton step that lowers the cost by less than this share of it changes nothing. */
const STILL = 1e-18;

/**
 * Solves the bounded quadratic form by the method of multipliers (Hestenes 1969, Powell 1969), each round by Newton steps
 * on its piecewise quadratic with only the rows beyond their limits in the matrix. Where no x keeps all limits the answer
 * is one that is beyond them by little in the sense of least squares, and `beyond` stays.
 * @param tolerance amount beyond the limits that counts as kept
 */
export function boundedForm(form: BoundedForm, tolerance: number): BoundedSolution {
  const { energy, lower, upper } = form;
  const count = lower.length;
  const x = new Float64Array(energy.size);
  const pull = new Float64Array(count);
  const image = new Float64Array(count);
  let penalty = FIRST_PENALTY;
  let last = Number.POSITIVE_INFINITY;
  let found = { beyond: 0, row: -1 };
  for (let round = 0; round < MOST_ROUNDS; round++) {
    if (!settle(form, penalty, pull, x, image)) return { x, pull, ...farthest(form, image), converged: false };
    for (let k = 0; k < count; k++) pull[k] = penalty * excess(image[k] + pull[k] / penalty, lower[k], upper[k]);
    found = farthest(form, image);
    if (found.beyond <= tolerance) return { x, pull, ...found, converged: true };
    if (found.beyond > 0.25 * last && penalty < MOST_PENALTY) penalty *= 10;
    last = found.beyond;
  }
  return { x, pull, ...found, converged: false };
}

function excess(value: number, lower: number, upper: number): number {
  return value > upper ? value - upper : value < lower ? value - lower : 0;
}

function farthest({ lower, upper }: BoundedForm, image: Float64Array): { beyond: number; row: number } {
  let [beyond, row] = [0, -1];
  for (let k = 0; k < image.length; k++) {
    const amount = Math.abs(excess(image[k], lower[k], upper[k]));
    if (amount > beyond) [beyond, row] = [amount, k];
  }
  return { beyond, row };
}

/** Newton steps with halving to the least of ½ xᵀ P x + ½ penalty Σ excess²; false when they do not settle. */
function settle(form: BoundedForm, penalty: number, pull: Float64Array, x: Float64Array, image: Float64Array): boolean {
  const { energy, lower, upper } = form;
  const gradient = new Float64Array(x.length);
  const trial = new Float64Array(x.length);
  imageOf(form, x, image);
  let cost = costOf(form, penalty, pull, x, image);
  for (let step = 0; step < MOST_STEPS; step++) {
    productOf(energy, x, gradient);
    const matrix: CyclicMatrix = { ...energy, bands: energy.bands.slice(), rows: energy.rows.slice() };
    for (let k = 0; k < image.length; k++) {
      const over = excess(image[k] + pull[k] / penalty, lower[k], upper[k]);
      if (over === 0) continue;
      addRow(form, k, penalty, matrix);
      for (let a = ACTIVE * k; a < ACTIVE * (k + 1); a++) gradient[form.index[a]] += penalty * over * form.value[a];
    }
    if (!factorCyclic(matrix)) return false;
    const move = gradient.slice();
    solveCyclic(matrix, move);
    let slope = 0;
    for (let i = 0; i < x.length; i++) slope += gradient[i] * move[i];
    if (!(slope > STILL * cost)) return true;
    let size = 1;
    for (;;) {
      for (let i = 0; i < x.length; i++) trial[i] = x[i] - size * move[i];
      imageOf(form, trial, image);
      const next = costOf(form, penalty, pull, trial, image);
      if (next <= cost - 1e-4 * size * slope) {
        x.set(trial);
        cost = next;
        break;
      }
      size /= 2;
      if (size < 1e-6) {
        imageOf(form, x, image);
        return true;
      }
    }
  }
  return false;
}

function costOf(form: BoundedForm, penalty: number, pull: Float64Array, x: Float64Array, image: Float64Array): number {
  const product = new Float64Array(x.length);
  productOf(form.energy, x, product);
  let cost = 0;
  for (let i = 0; i < x.length; i++) cost += (x[i] * product[i]) / 2;
  for (let k = 0; k < image.length; k++)
    cost += (penalty * excess(image[k] + pull[k] / penalty, form.lower[k], form.upper[k]) ** 2) / 2;
  return cost;
}

function imageOf({ index, value }: BoundedForm, x: Float64Array, image: Float64Array): void {
  for (let k = 0; k < image.length; k++) {
    let sum = 0;
    for (let a = ACTIVE * k; a < ACTIVE * (k + 1); a++) sum += value[a] * x[index[a]];
    image[k] = sum;
  }
}

function addRow({ index, value }: BoundedForm, k: number, factor: number, matrix: CyclicMatrix): void {
  for (let a = ACTIVE * k; a < ACTIVE * (k + 1); a++)
    for (let b = ACTIVE * k; b <= a; b++) addCyclic(matrix, index[a], index[b], factor * value[a] * value[b]);
}

/** Writes the product of a symmetric matrix with a vector. */
function productOf(matrix: CyclicMatrix, x: Float64Array, out: Float64Array): void {
  const { size, band, border, bands, rows } = matrix;
  const inner = size - border;
  out.fill(0);
  for (let j = 0; j < inner; j++) {
    out[j] += bands[j * (band + 1)] * x[j];
    for (let d = 1; d <= Math.min(band, inner - 1 - j); d++) {
      const value = bands[j * (band + 1) + d];
      out[j + d] += value * x[j];
      out[j] += value * x[j + d];
    }
  }
  for (let r = 0; r < border; r++)
    for (let j = 0; j <= inner + r; j++) {
      const value = rows[r * size + j];
      out[inner + r] += value * x[j];
      if (j < inner + r) out[j] += value * x[inner + r];
    }
}
