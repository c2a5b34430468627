import { CamberwrightError } from '../error.ts';
import type { Plan, PlanCharacteristic, PlanZone } from '../model/plan.ts';
import { cutsOfPlan } from '../section/cut-of-plan.ts';
import { checkBlankParts } from './blank-checks.ts';
import { checkDefinitions, checkOwnDefinition, knownEntry } from './definition-checks.ts';
import { nearestWord } from './nearest-word.ts';

function refuse(name: string, path: string, message: string, remedy: string): never {
  throw new CamberwrightError('plan/value', `${path}: ${message}`, { where: `${name}, ${path}`, remedy });
}

/**
 * Checks what a schema cannot say: order of limits, known quantities and definitions, ranges.
 * @throws plan/value, plan/definition, plan/cut-…
 */
export function checkPlan(plan: Plan, name: string): void {
  const positive = (value: number | undefined, path: string) => {
    if (value !== undefined && !(value > 0))
      refuse(name, path, `wanted more than 0, found ${value}.`, 'Give a positive number.');
  };
  positive(plan.edgeZone, 'edgeZone');
  plan.setbacks?.forEach((value, i) => {
    positive(value, `setbacks[${i}]`);
  });
  const { equipment, tipRadius, temperature } = plan.uncertainty ?? {};
  for (const [path, u] of [
    ['equipment', equipment],
    ['tipRadius', tipRadius],
    ['temperature.u', temperature?.u],
  ] as const)
    if (u !== undefined && u < 0)
      refuse(name, `uncertainty.${path}`, 'an uncertainty is never negative.', 'Give 0 or more.');
  if ((plan.decision?.factor ?? 0) < 0)
    refuse(name, 'decision.factor', 'a guard factor is never negative.', 'Give 0 or more.');
  if (plan.minCoverage !== undefined && !(plan.minCoverage >= 0 && plan.minCoverage <= 1))
    refuse(name, 'minCoverage', `wanted a share from 0 to 1, found ${plan.minCoverage}.`, 'Give 0.98 for 98 %.');
  checkSections(plan, name);
  plan.zones?.forEach((zone, i) => {
    checkZone(zone, plan.zones!.slice(0, i), name, `zones[${i}]`);
  });
  checkBlankParts(plan, name);
  checkDefinitions(plan.definitions ?? [], name, 'definitions');
  plan.characteristics?.forEach((item, i) => {
    checkCharacteristic(item, plan, name, `characteristics[${i}]`);
  });
}

function checkSections(plan: Plan, name: string): void {
  const { heights, ids } = plan.sections ?? {};
  heights?.forEach((height, i) => {
    if (i > 0 && height <= heights[i - 1])
      refuse(name, `sections.heights[${i}]`, 'heights must rise.', 'List every height once, from root to tip.');
  });
  if (heights && ids && heights.length !== ids.length)
    refuse(name, 'sections.ids', `${ids.length} ids for ${heights.length} heights.`, 'Give one id a height.');
  cutsOfPlan(plan, name);
}

function checkZone(zone: PlanZone, before: readonly PlanZone[], name: string, path: string): void {
  if (!(zone.plus + zone.minus > 0))
    refuse(
      name,
      path,
      'plus and minus leave no room between the limits.',
      'Give both as amounts, minus as a positive one.',
    );
  if (zone.from !== undefined && zone.to !== undefined && !(zone.from < zone.to))
    refuse(name, `${path}.from`, `${zone.from} is not below ${zone.to}.`, 'Give the lower height as "from".');
  if (before.some((other) => other.name === zone.name))
    refuse(name, `${path}.name`, `two zones are named "${zone.name}".`, 'Give every zone its own name.');
}

function checkCharacteristic(item: PlanCharacteristic, plan: Plan, name: string, path: string): void {
  const entry = knownEntry(item.of, name, `${path}.of`);
  checkOwnDefinition(item, entry, plan.definitions ?? [], name, path);
  if (entry.list && item.at === undefined)
    refuse(name, `${path}.at`, `"${item.of}" needs its ${entry.list}.`, 'Add "at".');
  if (!entry.list && item.at !== undefined)
    refuse(name, `${path}.at`, `"${item.of}" is a single value.`, 'Take "at" out.');
  if (entry.scope === 'span' && item.sections)
    refuse(name, `${path}.sections`, `"${item.of}" belongs to the whole span.`, 'Take "sections" out.');
  if (item.upper !== undefined && item.plus !== undefined)
    refuse(name, `${path}.plus`, '"upper" and "plus" both set the upper limit.', 'Keep one of them.');
  if (item.lower !== undefined && item.minus !== undefined)
    refuse(name, `${path}.minus`, '"lower" and "minus" both set the lower limit.', 'Keep one of them.');
  if (item.lower !== undefined && item.upper !== undefined && item.lower > item.upper)
    refuse(name, `${path}.lower`, `${item.lower} is above the upper limit ${item.upper}.`, 'Swap the limits.');
  if (item.plus !== undefined && item.minus !== undefined && !(item.plus + item.minus >= 0))
    refuse(
      name,
      `${path}.minus`,
      'plus and minus leave no room between the limits.',
      'Give minus as a positive amount.',
    );
  if (item.nominal !== undefined) {
    const lower = item.lower ?? (item.minus === undefined ? null : item.nominal - item.minus);
    const upper = item.upper ?? (item.plus === undefined ? null : item.nominal + item.plus);
    if (lower !== null && upper !== null && lower > upper)
      refuse(name, path, `the lower limit ${lower} is above the upper limit ${upper}.`, 'Mend the limits.');
  }
}

/** Checks the section ids a plan names against those there are. @throws plan/unknown-section */
export function checkPlanSections(plan: Plan, ids: readonly string[], name: string): void {
  plan.characteristics?.forEach((item, i) => {
    for (const id of item.sections ?? [])
      if (!ids.includes(id)) {
        const nearest = nearestWord(id, ids);
        throw new CamberwrightError('plan/unknown-section', `The plan names an unknown section "${id}".`, {
          where: `${name}, characteristics[${i}].sections`,
          remedy: nearest ? `Did you mean "${nearest}"? Known: ${ids.join(', ')}.` : 'There are no sections.',
        });
      }
  });
}
