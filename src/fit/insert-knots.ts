import type { SplineSystem } from './spline-system.ts';

/** Fewest points a span must keep on each side of an inserted knot. */
const FEWEST = 4;
/** Spans shorter than this many noise widths are not halved: what is finer cannot be told from noise. */
const SHORTEST = 12;
/** Residuals are cut at this many noise widths, so that one stray point does not look like structure. */
const CUT = 3;
/** Standard deviations of the sum of products that count as structure. */
const CLEAR = 4;

/** No outline gets more knots than this. */
const MOST_KNOTS = 1200;

/** Knots with some added, and the spans [from, to] that were halved. */
export interface InsertedKnots {
  knots: Float64Array;
  halved: [number, number][];
}

/**
 * Returns knots with one more in the middle of every span whose residuals are alike from point to point, beyond what
 * noise gives; null when none is. Isolated stray points do not count, a bend that the spans cannot follow does.
 * @param system the last solve; its points are in order round the outline
 * @param residuals normal residuals (mm)
 * @param sigma standard deviation of the noise (mm)
 * @param correlation lag-1 correlation that the noise itself has
 */
export function insertKnots(
  system: Pick<SplineSystem, 'closed' | 'span' | 'parameters'>,
  residuals: Float64Array,
  sigma: number,
  correlation: number,
): InsertedKnots | null {
  const { span, parameters } = system;
  const { knots, extended } = system.closed;
  const n = knots.length;
  const product = new Float64Array(n);
  const pairs = new Float64Array(n);
  const firstHalf = new Float64Array(n);
  const middle = (k: number) => 0.5 * (extended[k + 3] + extended[k + 4]);
  const cut = (value: number) => Math.max(-CUT, Math.min(CUT, value / sigma));
  for (let i = 0; i < span.length; i++) {
    const next = i + 1 === span.length ? 0 : i + 1;
    product[span[i]] += cut(residuals[i]) * cut(residuals[next]) - correlation;
    pairs[span[i]]++;
    if (parameters[i] < middle(span[i])) firstHalf[span[i]]++;
  }
  const added: number[] = [];
  const halved: [number, number][] = [];
  for (let k = 0; k < n; k++) {
    if (extended[k + 4] - extended[k + 3] < SHORTEST * sigma) continue;
    if (Math.min(firstHalf[k], pairs[k] - firstHalf[k]) < FEWEST || product[k] < CLEAR * Math.sqrt(pairs[k])) continue;
    added.push(middle(k));
    halved.push([extended[k + 3], extended[k + 4]]);
  }
  if (added.length === 0 || n + added.length > MOST_KNOTS) return null;
  return { knots: Float64Array.from([...knots, ...added]).sort(), halved };
}
