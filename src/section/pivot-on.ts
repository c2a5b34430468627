import { CamberwrightError } from '../error.ts';
import type { SurfaceSection } from './surface-section.ts';

/**
 * Returns where the line along Z through a pivot meets a section, in the section's coordinates (mm).
 * @throws plan/cut-pivot where it does not
 */
export function pivotOn(on: SurfaceSection, pivot: readonly [number, number]): readonly [number, number] {
  const { cut } = on;
  if (cut === null) return pivot;
  const z = cut.heightOver(pivot[0], pivot[1]);
  if (Number.isNaN(z)) {
    throw new CamberwrightError('plan/cut-pivot', `Section "${cut.id}" does not meet the pivot of section motions.`, {
      where: `pivot ${pivot[0]}, ${pivot[1]} mm`,
      remedy: 'Choose a pivot within the section.',
    });
  }
  const out = new Float64Array(2);
  cut.develop(Float64Array.of(pivot[0], pivot[1], z), out);
  return [out[0], out[1]];
}
