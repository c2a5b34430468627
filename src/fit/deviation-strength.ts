import { inverseCyclic } from '../math/banded-cyclic.ts';
import { solveValues, spanForm, type ValueSolution, type ValueSystem } from './deviation-spline.ts';
import { type FeatureSize, featureAt } from './knots-outline.ts';

/** Search range of the dimensionless strength (decades) and powers of the feature size that it may go by. */
const LEAST = -9;
const MOST = 4;
const POWERS = [0, 2, 4, 6];
/** Spans to either side over which the strength is made to fit the bends there, with weights falling to the sides. */
const REACH = 4;
/** Degrees of freedom that the whole outline's strength counts for against those in the window. */
const PRIOR = 5;
/** Share of the likeliest smoothing that is used: its bias then is small against its scatter. */
const UNDER = 0.4;
const ROUNDS = 30;
/** Largest ratio of smoothing to data in a span, beyond which the matrix would be lost in rounding: forty spans' width. */
const STIFFEST = 5e9;
/** A strength stands when it changes by less than this share. */
const STEADY = 0.02;

/** Smoothing of each knot span, and minus twice its log likelihood but for a constant of the knots. */
export interface Strength {
  spans: Float64Array;
  cost: number;
}

/**
 * Returns the smoothing of greatest restricted likelihood (Patterson & Thompson, Biometrika 58, 1971; Wahba, Annals of
 * Statistics 13, 1985): strength × a power of the local feature size, over half decades and four powers.
 * @param density points per mm
 * @param sigma standard deviation of a value (mm)
 */
export function likelyStrength(system: ValueSystem, feature: FeatureSize, density: number, sigma: number): Strength {
  const { extended } = system.closed;
  const shape = Float64Array.from(
    system.length,
    (_, k) => featureAt(feature, 0.5 * (extended[k + 3] + extended[k + 4])) / feature.largest,
  );
  const whole = density * feature.largest ** 6;
  const most = stiffest(system);
  let best: Strength & { decade: number; power: number } = {
    spans: new Float64Array(),
    cost: Number.POSITIVE_INFINITY,
    decade: MOST,
    power: POWERS[0],
  };
  const consider = (decade: number, power: number) => {
    const spans = shape.map((size, k) => Math.min(most[k], whole * 10 ** decade * size ** power));
    const solution = solveValues(system, spans);
    const cost = solution ? unlikelihood(system, spans, solution, sigma) : Number.POSITIVE_INFINITY;
    if (cost < best.cost) best = { spans, cost, decade, power };
  };
  for (const power of POWERS) for (let decade = MOST; decade >= LEAST; decade--) consider(decade, power);
  for (const step of [-0.5, 0.5]) consider(best.decade + step, best.power);
  return best;
}

/** Largest smoothing of each span that the matrix can bear. */
function stiffest({ length, span, closed }: ValueSystem): Float64Array {
  const whole = (STIFFEST * span.length) / closed.period;
  return length.map((l) => whole * l ** 6);
}

/** Minus twice the restricted log likelihood of values with a spline of random third derivatives. */
function unlikelihood(
  { length, closed }: ValueSystem,
  spans: Float64Array,
  solution: ValueSolution,
  sigma: number,
): number {
  let sum = solution.penalised / (sigma * sigma) + solution.logDeterminant;
  let bound = 0;
  for (let k = 0; k < length.length; k++) {
    if (length[k] <= 0) continue;
    sum -= Math.log(spans[k] / closed.period);
    bound += (closed.period * length[k]) / spans[k];
  }
  return isUnbroken(length) ? sum - Math.log(bound) : sum;
}

/** A closed spline without breaks has third derivatives that sum to nothing: one of them is not free. */
function isUnbroken(length: Float64Array): boolean {
  return length.every((l) => l > 0);
}

/**
 * Returns smoothing that follows the bends: in a window round each span the expected number of free third derivatives
 * equals their size, a condition of greatest restricted likelihood (Wood & Fasiolo, Biometrics 73, 2017) in local form;
 * the given smoothing counts as some observations more, so that chance moves little and a nick moves all it needs.
 */
export function localStrength(system: ValueSystem, given: Float64Array, sigma: number): Float64Array {
  const { length, third } = system;
  const n = length.length;
  const unbroken = isUnbroken(length);
  const spans = given.slice();
  const most = stiffest(system);
  const free = new Float64Array(n);
  const size = new Float64Array(n);
  for (let round = 0; round < ROUNDS; round++) {
    const solution = solveValues(system, spans);
    if (!solution) return given;
    const inverse = inverseCyclic(solution.factor);
    let bound = 0;
    for (let k = 0; k < n; k++) bound += length[k] / spans[k];
    for (let k = 0; k < n; k++) {
      if (length[k] <= 0) continue;
      const q = spans[k] * length[k];
      const kept = unbroken ? length[k] / spans[k] / bound : 0;
      free[k] = Math.max(0, 1 - kept - q * spanForm(inverse, third, 4 * k, k, n));
      let bend = 0;
      for (let a = 0; a < 4; a++) bend += third[4 * k + a] * solution.coefficients[(k - 3 + a + n) % n];
      size[k] = (q * bend * bend) / (sigma * sigma);
    }
    let change = 0;
    const next = spans.slice();
    for (let k = 0; k < n; k++) {
      if (length[k] <= 0) continue;
      let [expected, found] = [PRIOR, (PRIOR * spans[k]) / given[k]];
      for (let j = -REACH; j <= REACH; j++) {
        const i = (k + j + n) % n;
        const weight = 1 - Math.abs(j) / (REACH + 1);
        expected += weight * free[i];
        found += weight * size[i];
      }
      next[k] = Math.min(most[k], (spans[k] * expected) / found);
      change = Math.max(change, Math.abs(Math.log(next[k] / spans[k])));
    }
    spans.set(next);
    if (change < STEADY) break;
  }
  return spans.map((span) => span * UNDER);
}
