import type { Outline } from '../model/outline.ts';
import { outlineFoot } from './outline-foot.ts';

/**
 * Finds the feet of points that follow one another round the outline: each search starts at the last foot and stays
 * local, so that a thin edge is not jumped; where the distance comes out beyond `gate` the nearest place of all is taken.
 * @param points x0, y0, x1, … (mm)
 * @param gate distance (mm) beyond which a local foot is not trusted
 */
export function chainedFeet(
  outline: Outline,
  points: Float64Array,
  gate: number,
): { parameters: Float64Array; distances: Float64Array } {
  const count = points.length >> 1;
  const parameters = new Float64Array(count);
  const distances = new Float64Array(count);
  let guess: number | undefined;
  for (let i = 0; i < count; i++) {
    const x = points[2 * i];
    const y = points[2 * i + 1];
    let foot = outlineFoot(outline, x, y, guess);
    if (guess !== undefined && Math.abs(foot.distance) > gate) foot = outlineFoot(outline, x, y);
    parameters[i] = foot.t;
    distances[i] = foot.distance;
    guess = Math.abs(foot.distance) > gate ? undefined : foot.t;
  }
  return { parameters, distances };
}
