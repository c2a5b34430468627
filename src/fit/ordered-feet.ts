import type { Outline } from '../model/outline.ts';
import { outlineFoot } from './outline-foot.ts';

/**
 * Finds the feet of points that follow one another round the outline: each search starts at the last foot, or at a given
 * place, and stays local, so that a thin edge is not jumped. Where the distance grows by more than `jump` from point to
 * point and the nearest place of all is much nearer, that is taken.
 * @param points x0, y0, x1, … (mm)
 * @param jump change of distance (mm) beyond which a local foot is not trusted
 * @param starts parameter to start each search at; NaN starts at the last foot
 */
export function orderedFeet(
  outline: Outline,
  points: Float64Array,
  jump: number,
  starts: Float64Array | null = null,
): { parameters: Float64Array; distances: Float64Array } {
  const count = points.length >> 1;
  const parameters = new Float64Array(count);
  const distances = new Float64Array(count);
  let guess: number | undefined;
  let last = 0;
  for (let i = 0; i < count; i++) {
    const x = points[2 * i];
    const y = points[2 * i + 1];
    const start = starts !== null && Number.isFinite(starts[i]) ? starts[i] : guess;
    let foot = outlineFoot(outline, x, y, start);
    if (start !== undefined && Math.abs(foot.distance) > Math.abs(last) + jump) {
      const nearest = outlineFoot(outline, x, y);
      if (Math.abs(nearest.distance) < 0.5 * Math.abs(foot.distance)) foot = nearest;
    }
    parameters[i] = foot.t;
    distances[i] = foot.distance;
    guess = foot.t;
    last = foot.distance;
  }
  return { parameters, distances };
}
