import { evaluateOutline } from '../../src/fit/outline-evaluate.ts';
import type { Outline } from '../../src/model/outline.ts';

/** Largest and root mean square exact distance (mm) of `count` places of an outline from the true contour. */
export function outlineError(
  outline: Outline,
  distance: (x: number, y: number) => number,
  count = 1500,
): { max: number; rms: number; mean: number } {
  const out = new Float64Array(8);
  let max = 0;
  let sum = 0;
  let square = 0;
  for (let i = 0; i < count; i++) {
    evaluateOutline(outline, outline.knots[0] + (outline.period * (i + 0.37)) / count, out);
    const d = distance(out[0], out[1]);
    max = Math.max(max, Math.abs(d));
    sum += d;
    square += d * d;
  }
  return { max, rms: Math.sqrt(square / count), mean: sum / count };
}
