import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { normalFrom, seededRandom } from '../../src/math/random.ts';
import type { Outline } from '../../src/model/outline.ts';

/** The feet of points on an outline with normal noise of one standard deviation (mm) along its normals added. */
export function noisyPoints(outline: Outline, points: Float64Array, sigma: number, seed: number): Float64Array {
  const normal = normalFrom(seededRandom(seed));
  const out = new Float64Array(8);
  return Float64Array.from(points, (_, k) => {
    if (k % 2 === 0) {
      evaluateOutline(outline, outlineFoot(outline, points[k], points[k + 1]).t, out);
      const error = (sigma * normal()) / Math.hypot(out[2], out[3]);
      out[0] += error * out[3];
      out[1] -= error * out[2];
    }
    return out[k % 2];
  });
}

/** Root mean square of errors over the stated uncertainties. */
export function misfit(values: { value: number | null; u: number | null }[], truth: number): number {
  const squares = values.map(({ value, u }) => (((value ?? Number.NaN) - truth) / (u ?? Number.NaN)) ** 2);
  return Math.sqrt(squares.reduce((sum, q) => sum + q, 0) / values.length);
}
