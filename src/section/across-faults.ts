import type { Relation } from '../model/relation.ts';
import type { LocalFault } from '../relate/faults-find.ts';
import type { SurfaceSection } from './surface-section.ts';

/**
 * Returns the points a section is made of where local defects lie in its slab. Across a defect the section is made of
 * the defect's own points, each carried along the form fitted to it (its deviation changes by the form's between the
 * point's height and the section's); what lies above and below it says nothing there. Points of a defect that the section
 * does not cross are left out.
 * @param pick indices of points of the relation
 */
export function acrossFaults(
  on: SurfaceSection,
  relation: Relation,
  pick: Uint32Array,
  faults: readonly LocalFault[],
): { relation: Relation; pick: Uint32Array } {
  if (faults.length === 0) return { relation, pick };
  const { columns } = on.surface;
  const period = columns[columns.length - 1] - columns[0];
  let deviation: Float64Array | null = null;
  const kept = pick.filter((i) => {
    for (const fault of faults) {
      const away = relation.u[i] - fault.u;
      const a = (away - period * Math.round(away / period)) * (fault.stretch / (0.5 * fault.width));
      if (Math.abs(a) >= 1) continue;
      const b = (relation.height[i] - fault.height) / (0.5 * fault.length);
      const crossing = (on.heightAt(relation.u[i]) - fault.height) / (0.5 * fault.length);
      if (Math.abs(b) < 1 !== Math.abs(crossing) < 1) return false;
      if (Math.abs(b) >= 1) continue;
      deviation ??= relation.deviation.slice();
      deviation[i] += fault.depth * (fault.profile(a, crossing) - fault.profile(a, b));
    }
    return true;
  });
  return { relation: deviation ? { ...relation, deviation } : relation, pick: kept };
}
