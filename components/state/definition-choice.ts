import type { DefinitionInfo, DefinitionsByPath } from '../../src/judge/definition-info.ts';
import type { Plan, PlanDefinition } from '../../src/model/plan.ts';
import type { Characteristic, Results, SectionResult } from '../../src/model/results.ts';
import type { Parameters, Value } from '../../src/model/value.ts';
import type { MeasuredOne, MeasureOne } from '../../src/redefine.ts';
import type { Failure } from '../../src/worker/messages.ts';

/** A quantity tried by another definition: what was asked, the latest reply, and why there is none. */
export interface Trial {
  ask: MeasureOne;
  /** Reply to an earlier ask of the same quantity until the present one is answered. */
  reply: MeasuredOne | null;
  /** False until `reply` answers `ask`. */
  answered: boolean;
  failure: Failure | null;
}

/** Where trials are made: in the panel of a row, or at an edge's close-up. */
export type TrialSlot = 'row' | 'leading' | 'trailing';
export type Trials = Partial<Record<TrialSlot, Trial>>;

/** Definition and complete parameters of a quantity. */
export interface Choice {
  definition: string;
  parameters: Parameters;
}

/** Parameters of a definition by their defaults. */
export function defaultParameters(info: DefinitionInfo): Parameters {
  return Object.fromEntries(info.parameters.map((spec) => [spec.name, spec.default]));
}

/** What a row is measured by, its parameters completed by the definition's defaults. */
export function choiceOfRow(
  row: Pick<Characteristic, 'of' | 'definition' | 'parameters'>,
  byOf: DefinitionsByPath | null,
): Choice {
  const info = byOf?.[row.of]?.find((one) => one.id === row.definition);
  return { definition: row.definition, parameters: { ...(info ? defaultParameters(info) : {}), ...row.parameters } };
}

export function sameChoice(a: Choice, b: Choice): boolean {
  const names = new Set([...Object.keys(a.parameters), ...Object.keys(b.parameters)]);
  return a.definition === b.definition && [...names].every((name) => a.parameters[name] === b.parameters[name]);
}

/** The radius of an edge of a section: the path it goes by, what it is measured by, and its row where it has one. */
export interface EdgeRadius {
  of: string;
  choice: Choice;
  row: Characteristic | null;
}

/** As its row says, else as its value does; null without either. */
export function edgeRadius(
  results: Results,
  section: SectionResult,
  edge: 'leading' | 'trailing',
  byOf: DefinitionsByPath | null,
): EdgeRadius | null {
  const paths = [`${edge}Edge.radiusFit`, `${edge}Edge.radius`];
  const row = (results.characteristics ?? []).find((c) => c.section === section.id && paths.includes(c.of)) ?? null;
  if (row && row.definition !== '–') return { of: row.of, choice: choiceOfRow(row, byOf), row };
  const [of] = paths;
  const value: Value | undefined = section.measured?.[edge === 'leading' ? 'leadingEdge' : 'trailingEdge'].radiusFit;
  return value ? { of, choice: choiceOfRow({ of, ...value }, byOf), row } : null;
}

/** The list with one quantity's definition put in; there is one entry a path. */
export function withDefinition(list: readonly PlanDefinition[], one: PlanDefinition): PlanDefinition[] {
  return [...list.filter((old) => old.of !== one.of), one];
}

/** The plan with the chosen definitions written in. Rows that named their own definition of such a quantity follow. */
export function planWith(plan: Plan | null, chosen: readonly PlanDefinition[]): Plan {
  const start: Plan = plan ?? { schema: 'camberwright/plan', schemaVersion: 1 };
  const definitions = chosen.reduce<PlanDefinition[]>(withDefinition, start.definitions ?? []);
  const paths = new Set(chosen.map((one) => one.of));
  const characteristics = start.characteristics?.map((item) => {
    if (!paths.has(item.of)) return item;
    const { definition: _definition, parameters: _parameters, ...rest } = item;
    return rest;
  });
  return { ...start, definitions, ...(characteristics ? { characteristics } : {}) };
}
