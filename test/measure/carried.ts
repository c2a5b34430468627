import { outlineFoot } from '../../src/fit/outline-foot.ts';
import { contourOf } from '../../src/measure/contour.ts';
import type { SectionContext } from '../../src/measure/section-context.ts';
import type { CarriedSection } from '../../src/section/carry-points.ts';
import type { SurfaceSection } from '../../src/section/surface-section.ts';

/** Section points as if carried to a nominal; without points, the dense places of the measured outline. */
export function carriedTo(nominal: SectionContext, measured: SectionContext, given?: Float64Array): CarriedSection {
  const { x, y } = contourOf(measured.section.outline);
  const points = given ?? Float64Array.from({ length: 2 * x.length }, (_, k) => (k % 2 ? y : x)[k >> 1]);
  const feet = Array.from({ length: points.length / 2 }, (_, i) =>
    outlineFoot(nominal.section.outline, points[2 * i], points[2 * i + 1]),
  );
  return {
    // No definition looks at the surface behind the points.
    on: {} as SurfaceSection,
    height: 0,
    points,
    u: Float64Array.from(feet, (foot) => foot.t),
    deviation: Float64Array.from(feet, (foot) => foot.distance),
    source: Uint32Array.from(feet, (_, i) => i),
  };
}
