import { nominalBlade } from '../../samples/blade.ts';
import { outlinePlaces, outlineSteps } from '../../samples/outline-grid.ts';
import { evenHeights, exactSections } from '../../samples/tessellate.ts';
import { chordParameters, interpolateOutline } from '../../src/fit/interpolate-outline.ts';
import { type LoftSection, loftSurface } from '../../src/fit/loft-surface.ts';
import { makeNominalTarget, type NominalTarget } from '../../src/spatial/nominal-target.ts';

/** The closed-form blade's sections as loft sections, edges placed by construction. */
export function exactLoft(heights: number, points: number, blade = nominalBlade()): LoftSection[] {
  const table = exactSections(evenHeights(heights), points, blade);
  const trailing = outlinePlaces(outlineSteps(points)).findIndex((p) => p.piece === 2 && Math.abs(p.t) < 1e-9);
  return table.sections.map((section) => {
    const { at } = chordParameters(section.points);
    const edges = { leading: at[0], trailing: at[trailing], firstSide: 'pressure' as const };
    return { id: section.id, height: section.height, outline: interpolateOutline(section.points), edges };
  });
}

/** The closed-form nominal blade as a search target. */
export function exactTarget(heights = 21, points = 400, blade = nominalBlade()): NominalTarget {
  return makeNominalTarget(loftSurface(exactLoft(heights, points, blade)));
}
