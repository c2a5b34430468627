import { partAnswer, sectionsAnswer } from './judge/answers.ts';
import { askSections, type SectionContexts } from './judge/ask-sections.ts';
import { judgeCharacteristics } from './judge/characteristics.ts';
import type { Plan, PlanDefinition } from './model/plan.ts';
import type { Results } from './model/results.ts';

/**
 * Returns results with everything that depends on chosen definitions: what is asked of the sections, characteristics,
 * answers, and the choices among the settings. Placement, deviation and the sections' own measures stay.
 * @param results with sections, and where there are any trends and zones
 * @param contexts of the same sections, in the same order
 * @param definitions choices for whole quantities
 */
export function judgeResults(
  results: Results,
  contexts: readonly SectionContexts[],
  plan: Plan | null,
  definitions: readonly PlanDefinition[],
): Results {
  const { deviation, trends, alignment } = results;
  const sections = askSections(results.sections, contexts, plan, definitions);
  const method = alignment?.method ?? null;
  const zones = deviation?.zones ?? [];
  const characteristics = judgeCharacteristics(sections, trends ?? null, zones, plan, method, definitions);
  return {
    ...results,
    answers: {
      ...(deviation ? { part: partAnswer(deviation, characteristics) } : {}),
      sections: sectionsAnswer(characteristics),
    },
    settings: { ...results.settings, definitions },
    sections,
    characteristics,
  };
}
