import { fitOutline } from '../../src/fit/fit-outline.ts';
import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { FittedOutline } from '../../src/model/outline.ts';
import { REFERENCE_SECTIONS, type ReferenceName, sectionPoints } from '../support/reference-sections.ts';
import { contextOf, POINTS, readingsOf } from './section-statistics.ts';

/**
 * Bootstrap of the stated uncertainty: residuals drawn anew and put back on the fitted curve, the whole fit done again.
 * A fit takes the slow part out of its residuals, so that long blocks of them are too calm: the correlation of
 * neighbours is taken out, what is left drawn in short blocks, and the correlation put back (post-blackening; Davison &
 * Hinkley, Bootstrap Methods and their Application, 1997, 8.2).
 */

export interface BootstrapTask {
  name: ReferenceName;
  /** Standard deviation of a point (mm), and the correlation of one point's noise with the next along the scan. */
  noise: number;
  correlation: number;
  /** Points a block: at least the length over which the residuals without neighbours' correlation hang together. */
  block: number;
  resamplings: number;
  seed: number;
}

/** Spread over the resamplings against the stated uncertainty, both in the unit of the row. */
export interface BootstrapRow {
  row: string;
  spread: number;
  u: number;
  /** Mean of the resampled values less the value itself. */
  shift: number;
}

/** Returns the rows of one noisy section that state a u, with their spread over resampled points. */
export function bootstrapRows(task: BootstrapTask): BootstrapRow[] {
  const { name, block, resamplings, seed } = task;
  const fitted = fitOutline(noisySection(task), { corners: [] });
  const stated = readingsOf(contextOf(fitted), name);
  const { feet, normals, residuals } = residualsOf(fitted);
  const lag = lagOf(residuals);
  const fresh = residuals.map((r, i) => r - lag * residuals[(i + residuals.length - 1) % residuals.length]);
  const random = seededRandom(seed + 300_000);
  const sums = new Map([...stated.keys()].map((row) => [row, { count: 0, sum: 0, squares: 0 }]));
  for (let round = 0; round < resamplings; round++) {
    const drawn = coloured(drawBlocks(fresh, block, random), lag);
    const points = feet.map((v, k) => v + drawn[k >> 1] * normals[k]);
    for (const [row, { value }] of readingsOf(contextOf(fitOutline(points, { corners: [] })), name)) {
      const sum = sums.get(row);
      if (!sum) continue;
      const off = value - (stated.get(row)?.value ?? 0);
      sum.count++;
      sum.sum += off;
      sum.squares += off * off;
    }
  }
  return [...stated].flatMap(([row, { u }]) => {
    const { count, sum, squares } = sums.get(row) ?? { count: 0, sum: 0, squares: 0 };
    if (u === null || count < 2) return [];
    return [{ row, u, shift: sum / count, spread: Math.sqrt((squares - (sum * sum) / count) / (count - 1)) }];
  });
}

/** Points of a section whose noise along the scan is an autoregression of first order with the given spread. */
function noisySection({ name, noise, correlation, seed }: BootstrapTask): Float64Array {
  const reference = REFERENCE_SECTIONS[name];
  if (correlation === 0) return sectionPoints(reference, POINTS, noise, seed);
  const normal = normalFrom(seededRandom(seed + 100_000));
  const fresh = Math.sqrt(1 - correlation * correlation);
  let last = normal();
  // The departure is asked for once a point, in the order of the scan; the points' own noise is next to none.
  return sectionPoints(reference, POINTS, NO_NOISE, seed, () => {
    const now = noise * last;
    last = correlation * last + fresh * normal();
    return now;
  });
}

/** Not 0, which would space the points evenly (mm). */
const NO_NOISE = 1e-12;

/** Feet of the points, the outward normals there, and the residuals with the variance that the fit took restored. */
function residualsOf({ outline, points, parameters, noise }: FittedOutline) {
  const n = parameters.length;
  const feet = new Float64Array(2 * n);
  const normals = new Float64Array(2 * n);
  const residuals = new Float64Array(n);
  const out = new Float64Array(8);
  for (let i = 0; i < n; i++) {
    evaluateOutline(outline, parameters[i], out);
    const speed = Math.hypot(out[2], out[3]);
    feet.set([out[0], out[1]], 2 * i);
    normals.set([out[3] / speed, -out[2] / speed], 2 * i);
    residuals[i] = (points[2 * i] - out[0]) * normals[2 * i] + (points[2 * i + 1] - out[1]) * normals[2 * i + 1];
  }
  const mean = residuals.reduce((sum, r) => sum + r, 0) / n;
  const rms = Math.sqrt(residuals.reduce((sum, r) => sum + (r - mean) ** 2, 0) / n);
  return { feet, normals, residuals: residuals.map((r) => ((r - mean) * noise.sigma) / rms) };
}

/** Correlation of each residual with the one before. */
function lagOf(residuals: Float64Array): number {
  const n = residuals.length;
  let squares = 0;
  let products = 0;
  for (let i = 0; i < n; i++) {
    squares += residuals[i] ** 2;
    products += residuals[i] * residuals[(i + n - 1) % n];
  }
  return products / squares;
}

/** Values with the correlation put back: twice round, the first time to settle. */
function coloured(fresh: Float64Array, lag: number): Float64Array {
  const n = fresh.length;
  const values = new Float64Array(n);
  let last = 0;
  for (let i = 0; i < 2 * n; i++) values[i % n] = last = lag * last + fresh[i % n];
  return values;
}

/** As many values in blocks that begin anywhere, wrapped round, each block with a sign by chance. */
function drawBlocks(values: Float64Array, block: number, random: () => number): Float64Array {
  const n = values.length;
  const drawn = new Float64Array(n);
  for (let at = 0; at < n; at += block) {
    const start = Math.floor(random() * n);
    const sign = random() < 0.5 ? -1 : 1;
    for (let k = 0; k < block && at + k < n; k++) drawn[at + k] = sign * values[(start + k) % n];
  }
  return drawn;
}
