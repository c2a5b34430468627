import type { Outline } from '../model/outline.ts';
import { evaluateOutline } from './outline-evaluate.ts';

/**
 * Returns the unit outward normals at the given parameters, x0, y0, … At a corner the foot has no normal of its own: the
 * direction to the point is taken, so that the corner is drawn to it.
 */
export function outlineNormals(outline: Outline, parameters: Float64Array, points: Float64Array): Float64Array {
  const normals = new Float64Array(2 * parameters.length);
  const out = new Float64Array(8);
  const { corners, period } = outline;
  for (let i = 0; i < parameters.length; i++) {
    evaluateOutline(outline, parameters[i], out);
    let nx = out[3];
    let ny = -out[2];
    for (const corner of corners) {
      if (Math.abs(parameters[i] - corner) > 1e-12 * period) continue;
      const dx = points[2 * i] - out[0];
      const dy = points[2 * i + 1] - out[1];
      if (Math.hypot(dx, dy) > 1e-12 * period) {
        nx = dx;
        ny = dy;
      }
    }
    const length = Math.hypot(nx, ny) || 1;
    normals[2 * i] = nx / length;
    normals[2 * i + 1] = ny / length;
  }
  return normals;
}
