import type { SplineSystem } from './spline-system.ts';

/** Fewest points a span must keep on each side of an inserted knot. */
const FEWEST = 2;
/** Residuals are cut at this many noise widths, so that one stray point does not look like structure. */
const CUT = 3;
/** Standard deviations of the sum of products that count as structure. */
const CLEAR = 3;

/**
 * Returns knots with one more in the middle of every span whose residuals are alike from point to point, beyond what
 * noise gives; null when none is. Isolated stray points do not count, a bend that the spans cannot follow does.
 * @param system the last solve; its points are in order round the outline
 * @param residuals normal residuals (mm)
 * @param sigma standard deviation of the noise (mm)
 * @param correlation lag-1 correlation that the noise itself has
 */
export function insertKnots(
  system: SplineSystem,
  residuals: Float64Array,
  sigma: number,
  correlation: number,
): Float64Array | null {
  const { span } = system;
  const { knots, extended } = system.closed;
  const n = knots.length;
  const product = new Float64Array(n);
  const pairs = new Float64Array(n);
  const cut = (value: number) => Math.max(-CUT, Math.min(CUT, value / sigma));
  for (let i = 0; i < span.length; i++) {
    const next = i + 1 === span.length ? 0 : i + 1;
    product[span[i]] += cut(residuals[i]) * cut(residuals[next]) - correlation;
    pairs[span[i]]++;
  }
  const added: number[] = [];
  for (let k = 0; k < n; k++) {
    if (pairs[k] < 2 * FEWEST || product[k] < CLEAR * Math.sqrt(pairs[k])) continue;
    added.push(0.5 * (extended[k + 3] + extended[k + 4]));
  }
  if (added.length === 0) return null;
  return Float64Array.from([...knots, ...added]).sort();
}
