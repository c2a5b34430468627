import { CamberwrightError } from '../error.ts';
import type { BsplineSet } from '../model/bspline.ts';
import { bsplineIsoCurve } from '../spatial/bspline-evaluate.ts';
import { sectionsDifference } from './bspline-sections.ts';
import type { NominalBlade } from './nominal-blade.ts';
import { surfaceToBspline, type ToBsplineOptions } from './surface-to-bspline.ts';

/** A blade as it is exchanged, with how far that is from the blade itself (mm). */
export interface BladeBsplines {
  /** The blade's surface, and its curves at the sections with the sections' names. */
  set: BsplineSet;
  /** Largest distance of a section's curve from its outline. */
  fromSections: number;
  /** Largest distance of the surface from the blade's between the sections. */
  between: number;
}

/** Largest distance of a section's curve from its outline that is let through (mm). */
const MOST_FROM_SECTIONS = 1e-3;

/**
 * Returns a blade's surface and section curves as B-splines.
 * @param name of the surface
 * @throws fault/bspline-tolerance when they cannot be brought near enough to the blade
 */
export function bladeToBsplines(blade: NominalBlade, name: string, options: ToBsplineOptions = {}): BladeBsplines {
  const { surface, between } = surfaceToBspline(blade.surface, options);
  const fromSections = sectionsDifference(surface, blade.sections);
  if (!(fromSections <= MOST_FROM_SECTIONS)) {
    throw new CamberwrightError(
      'fault/bspline-tolerance',
      `The B-spline surface is ${fromSections} mm from the sections; ${MOST_FROM_SECTIONS} mm is allowed.`,
      { remedy: 'Report the sections that were to be written.' },
    );
  }
  const curves = blade.sections.map(({ id, height }) => ({ name: id, curve: bsplineIsoCurve(surface, height) }));
  return { set: { surfaces: [{ name, surface }], curves }, fromSections, between };
}
