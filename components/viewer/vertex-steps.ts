import type { PlaceLimits } from '../../src/judge/map-places.ts';
import type { Drawing } from '../../src/pipeline.ts';

/**
 * Three numbers a vertex: shares of the tolerance width by which it lies beyond the upper and beyond the lower limit
 * (negative inside), and 1 where it is measured, else 0. All are linear in the deviation, so the picture may
 * interpolate them and step the colour afterwards; its borders are then those of the map.
 * @param limitsOf limits (mm) at a height and position along the outline
 */
export function vertexShares(
  drawing: Pick<Drawing, 'along' | 'height' | 'deviation'>,
  limitsOf: (height: number, along: number) => PlaceLimits,
): Float32Array {
  const n = drawing.deviation.length;
  const shares = new Float32Array(3 * n);
  for (let i = 0; i < n; i++) {
    const d = drawing.deviation[i];
    if (Number.isNaN(d)) {
      shares.fill(-1, 3 * i, 3 * i + 2);
      continue;
    }
    const { lower, upper } = limitsOf(drawing.height[i], drawing.along[i]);
    const both = lower !== null && upper !== null ? upper - lower : 0;
    shares[3 * i] = upper === null ? -1 : (d - upper) / (both || Math.abs(upper) || Number.EPSILON);
    shares[3 * i + 1] = lower === null ? -1 : (lower - d) / (both || Math.abs(lower) || Number.EPSILON);
    shares[3 * i + 2] = 1;
  }
  return shares;
}

/** Index of the vertex nearest to a place on the surface; −1 without one. */
export function nearestVertex(drawing: Pick<Drawing, 'along' | 'height'>, height: number, along: number): number {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < drawing.height.length; i++) {
    const d = (drawing.height[i] - height) ** 2 + (drawing.along[i] - along) ** 2;
    if (d < least) {
      least = d;
      best = i;
    }
  }
  return best;
}
