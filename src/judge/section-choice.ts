import type { Plan, PlanDefinition } from '../model/plan.ts';
import type { SectionResult } from '../model/results.ts';
import type { Parameters } from '../model/value.ts';
import type { CatalogueEntry } from './catalogue.ts';
import { type Choice, choiceOf, type OwnChoice } from './choice.ts';

/** Where a section is. */
export type SectionPlace = Pick<SectionResult, 'height' | 'cut'>;

/**
 * The choice of a row at a section: as `choiceOf`, and for the throat the number of blades and the section's radius
 * from the plan's engine, unless they are chosen too.
 */
export function sectionChoice(
  own: OwnChoice,
  entry: CatalogueEntry,
  definitions: readonly PlanDefinition[],
  section: SectionPlace,
  plan: Plan | null,
): Choice {
  const choice = choiceOf(own, entry, definitions);
  if (entry.quantity !== 'throat') return choice;
  return { ...choice, parameters: { ...engineParameters(section, plan?.engine), ...choice.parameters } };
}

function engineParameters({ height, cut }: SectionPlace, engine: Plan['engine']): Parameters {
  if (engine?.blades === undefined) return {};
  const radius = cut?.kind === 'cylinder' ? cut.radius : distanceFromAxis(height, engine);
  return radius === null ? {} : { blades: engine.blades, radius };
}

/** Distance of the place where a section meets the stacking axis from the engine axis (mm); null without direction. */
function distanceFromAxis(height: number, { point, direction }: NonNullable<Plan['engine']>): number | null {
  const length = Math.hypot(...direction);
  if (!(length > 0)) return null;
  const [dx, dy, dz] = direction.map((part) => part / length);
  const [x, y, z] = [-point[0], -point[1], height - point[2]];
  return Math.hypot(y * dz - z * dy, z * dx - x * dz, x * dy - y * dx);
}
