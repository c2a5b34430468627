import { nominalFromTable } from '../../src/fit/nominal-blade.ts';
import type { SectionEdgesOptions } from '../../src/fit/section-edges.ts';
import type { NominalSurface } from '../../src/model/surface.ts';
import { sectionPoints, type TestSection } from './sections.ts';

/** Surface of a blade whose section at each of the heights 0, 10 … 120 mm is in closed form. */
export function ruledBlade(
  sectionAt: (height: number) => TestSection,
  count = 400,
  options: SectionEdgesOptions = {},
): NominalSurface {
  const sections = Array.from({ length: 13 }, (_, i) => {
    const height = 10 * i;
    return { id: `S${i}`, height, points: sectionPoints(sectionAt(height), count) };
  });
  return nominalFromTable({ kind: 'sections', sections }, options).surface;
}
