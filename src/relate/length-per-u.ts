import type { NominalSurface } from '../model/surface.ts';
import { alongAt } from '../spatial/surface-evaluate.ts';

/** Half the stretch over which the length is taken, in `u`. */
const HALF = 0.05;

/** Returns the length along the outline a unit of `u` at a place. */
export function lengthPerU(surface: NominalSurface, u: number, height: number): number {
  const { columns } = surface;
  const inside = Math.min(Math.max(u, columns[0] + HALF), columns[columns.length - 1] - HALF);
  return (alongAt(surface, inside + HALF, height) - alongAt(surface, inside - HALF, height)) / (2 * HALF);
}
