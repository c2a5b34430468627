import { CamberwrightError } from './error.ts';
import { askOne, hasChoice, type SectionContexts } from './judge/ask-sections.ts';
import { type CatalogueEntry, catalogueEntry } from './judge/catalogue.ts';
import { allowedDefinitions } from './judge/choice.ts';
import { checkChoices } from './judge/definition-checks.ts';
import { judgeRow } from './judge/judge-row.ts';
import { askedSubject } from './judge/row-subject.ts';
import { sectionChoice } from './judge/section-choice.ts';
import { judgeResults } from './judge-results.ts';
import { type EdgeTrace, edgeTrace } from './measure/edge-trace.ts';
import type { Plan, PlanCharacteristic, PlanDefinition } from './model/plan.ts';
import type { Asked, Characteristic, Results, SectionResult } from './model/results.ts';
import type { Parameters, Value } from './model/value.ts';

export type { EdgeTrace } from './measure/edge-trace.ts';

/** An inspection kept in memory, so that quantities can be measured anew without the points being read again. */
export interface KeptInspection {
  results: Results;
  plan: Plan | null;
  /** Of the results' sections, in their order. */
  sections: readonly SectionContexts[];
}

/** A quantity of one section to be measured by a definition; `of` and `at` as in a plan's characteristic. */
export interface MeasureOne {
  section: string;
  of: string;
  at?: number;
  definition: string;
  parameters?: Parameters;
}

export interface MeasuredOne {
  nominal: Value | null;
  measured: Value | null;
  /** The row judged by the plan; null where the section was not measured. */
  row: Characteristic | null;
  /** For a radius or an ellipse of an edge. */
  edge?: EdgeTrace;
}

/**
 * Returns one quantity of a section by a definition of the caller's choice, judged against the plan's limits.
 * @throws usage/measure for an unknown section or quantity, plan/definition for an unknown definition or parameter
 */
export function measureOne(kept: KeptInspection, request: MeasureOne): MeasuredOne {
  const { of, at, definition } = request;
  const contexts = kept.sections.find(({ id }) => id === request.section);
  const section = kept.results.sections.find(({ id }) => id === request.section);
  if (!contexts || !section) {
    const known = kept.sections.map(({ id }) => id).join(', ');
    throw refusal(`There is no section "${request.section}".`, `Use one of ${known}.`);
  }
  const entry = entryOf(of, at);
  if (!hasChoice(entry) || !allowedDefinitions(entry).some((candidate) => candidate.id === definition))
    throw refusal(`"${definition}" is no definition of "${of}".`, 'Use one that is listed for the quantity.');
  const asked = askOne(contexts, entry, at, sectionChoice(request, entry, [], section, kept.plan));
  const edge = edgeOf(entry, contexts, asked);
  return {
    nominal: asked.nominal,
    measured: asked.measured,
    row: asked.measured === null ? null : rowOf(kept, request, section, entry, asked),
    ...(edge ? { edge } : {}),
  };
}

/**
 * Returns the kept inspection's results with quantities measured by chosen definitions: the same a new inspection with
 * these choices among its settings gives.
 * @throws plan/value, plan/definition for a choice that cannot be made
 */
export function redefine(kept: KeptInspection, definitions: readonly PlanDefinition[]): Results {
  checkChoices(definitions, kept.plan, 'settings');
  return judgeResults(kept.results, kept.sections, kept.plan, definitions);
}

function refusal(message: string, remedy: string): CamberwrightError {
  return new CamberwrightError('usage/measure', message, { remedy });
}

function entryOf(of: string, at: number | undefined): CatalogueEntry {
  const entry = catalogueEntry(of);
  if (!entry) throw refusal(`There is no quantity "${of}".`, 'Use a path of the catalogue.');
  if (entry.list && at === undefined) throw refusal(`"${of}" needs its ${entry.list}.`, 'Give "at".');
  if (!entry.list && at !== undefined) throw refusal(`"${of}" is a single value.`, 'Leave "at" out.');
  return entry;
}

/** The row of a value: with the number and the limits of the plan's own row for it, where there is one. */
function rowOf(
  kept: KeptInspection,
  { section: id, of, at, definition, parameters }: MeasureOne,
  section: SectionResult,
  entry: CatalogueEntry,
  asked: Asked,
): Characteristic {
  const holds = (item: PlanCharacteristic) =>
    item.of === of && item.at === at && (!item.sections || item.sections.includes(id));
  const planned = (kept.plan?.characteristics ?? []).filter(holds);
  const item = planned.find((candidate) => candidate.definition === definition) ?? planned[0];
  const chosen: PlanCharacteristic = {
    ...(item ?? { of, ...(at === undefined ? {} : { at }) }),
    definition,
    ...(parameters ? { parameters } : {}),
  };
  const rows = kept.results.characteristics ?? [];
  const listed = rows.find((row) => row.of === of && row.at === at && row.section === id);
  const method = kept.results.alignment?.method ?? null;
  const { id: rowId, ...row } = judgeRow(chosen, entry, askedSubject(section, asked, entry), kept.plan, method);
  const last = rows.reduce((most, candidate) => Math.max(most, candidate.number), 0);
  return { id: listed?.id ?? rowId, number: listed?.number ?? last + 1, ...row };
}

/** Points round the edge of a radius or an ellipse: of the measured outline, else of the nominal. */
function edgeOf(entry: CatalogueEntry, contexts: SectionContexts, asked: Asked): EdgeTrace | null {
  if (entry.edge === null || (entry.quantity !== 'edge-radius' && entry.quantity !== 'edge-ellipse')) return null;
  const context = contexts.measured ?? contexts.nominal;
  const value = contexts.measured ? asked.measured : asked.nominal;
  const edge = context?.[entry.edge];
  return context && edge && value ? edgeTrace(context, edge, value) : null;
}
