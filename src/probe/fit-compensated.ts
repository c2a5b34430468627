import { fitOutline } from '../fit/fit-outline.ts';
import type { FittedOutline } from '../model/outline.ts';
import type { CompensatedSection } from './compensate-probe.ts';

/**
 * Returns the outline fitted to a compensated section at its own height. Noise is that of the centres; a ball rounds off
 * every corner, so the only corners are the ends of an open outline.
 */
export function fitCompensated(section: CompensatedSection): FittedOutline {
  const { points, path } = section;
  const corners = path.closed ? [] : [0, points.length / 2 - 1];
  return fitOutline(points, { corners, sigma: path.sigma });
}
