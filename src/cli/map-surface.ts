import type { Drawing } from '../drawing.ts';
import { cellBorders, limitsFromZones, zoneLimits } from '../judge/map-places.ts';
import type { Results } from '../model/results.ts';
import type { ColouredSurface } from '../report/map-ply.ts';

/** Returns the surface of a drawing with the limits of the results at every vertex. */
export function mapSurface(results: Results, drawing: Drawing): ColouredSurface {
  const limitsAt = limitsFromZones(zoneLimits(results));
  const heights = results.map?.heights ?? [];
  const ends = (results.map?.along ?? []).map((row) => {
    const borders = cellBorders(row);
    return [borders[0], borders[borders.length - 1]];
  });
  const limitsOf = (vertex: number) => {
    const height = drawing.height[vertex];
    let row = 0;
    for (let i = 1; i < heights.length; i++)
      if (Math.abs(heights[i] - height) < Math.abs(heights[row] - height)) row = i;
    const [suctionEnd, pressureEnd] = ends[row] ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
    return limitsAt(height, drawing.along[vertex], suctionEnd, pressureEnd);
  };
  return {
    positions: Float64Array.from(drawing.positions),
    triangles: drawing.triangles,
    deviation: Float64Array.from(drawing.deviation),
    limitsOf,
  };
}
