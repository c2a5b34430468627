import { fitOutline } from '../fit/fit-outline.ts';
import type { FittedOutline } from '../model/outline.ts';
import type { CompensatedSection } from './compensate-probe.ts';

/**
 * Returns the outline fitted to a compensated section at its own height. Noise is that of the centres; a ball rounds off
 * every corner, so the only ones are the edges it turned round and the ends of an open outline.
 */
export function fitCompensated(section: CompensatedSection): FittedOutline {
  const { points, path } = section;
  const ends = path.closed ? [] : [0, points.length / 2 - 1];
  const corners = [...ends, ...section.corners];
  return fitOutline(points, { corners, sigma: path.sigma });
}
