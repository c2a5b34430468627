import type { DefinitionsByPath } from '../../src/judge/definition-info.ts';
import type { PlanDefinition } from '../../src/model/plan.ts';
import type { Characteristic, Results } from '../../src/model/results.ts';
import type { DecimalMark } from '../controls/format.ts';
import { parametersText } from './how-facts.ts';

/** What one quantity of the table is measured by. */
export interface DefinitionLine {
  name: string;
  definition: string;
  parameters: string;
  /** Chosen by the user over the plan's. */
  isChosen: boolean;
  /** There is more than one definition, or one with parameters. */
  canChange: boolean;
  /** The row that shows it: in the given section where there is one. */
  rowId: string;
}

/** One line a quantity and definition of the table, in its order. */
export function definitionLines(
  results: Results,
  byOf: DefinitionsByPath | null,
  chosen: readonly PlanDefinition[],
  sectionId: string | null,
  mark: DecimalMark,
): DefinitionLine[] {
  const groups = new Map<string, Characteristic[]>();
  for (const row of results.characteristics ?? []) {
    const key = JSON.stringify([row.of, row.at, row.name, row.definition, row.parameters]);
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return [...groups.values()].map((rows) => {
    const row = rows.find((one) => one.section === sectionId) ?? rows[0];
    const infos = row.section === null ? [] : (byOf?.[row.of] ?? []);
    const info = infos.find((one) => one.id === row.definition);
    return {
      name: row.name,
      definition: info ? `${info.name} (${row.definition})` : row.definition,
      parameters: parametersText(row.parameters ?? {}, info?.parameters ?? [], mark),
      isChosen: chosen.some((one) => one.of === row.of),
      canChange: infos.length > 1 || infos.some((one) => one.parameters.length > 0),
      rowId: row.id,
    };
  });
}
