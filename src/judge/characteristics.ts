import type { Plan, PlanDefinition } from '../model/plan.ts';
import type { Alignment, Characteristic, SectionResult, Trends, ZoneDeviation } from '../model/results.ts';
import { unmeasured, type Value } from '../model/value.ts';
import type { CatalogueEntry } from './catalogue.ts';
import { judgeRow, type Row } from './judge-row.ts';
import { profileRow } from './profile-row.ts';
import { sectionSubject } from './row-subject.ts';
import { spanSize } from './sizes.ts';
import { wantedRows } from './wanted-rows.ts';

/**
 * The numbered rows of the characteristic table: those the plan names, or every main one without limits, then a row for
 * the profile of each zone that has limits.
 * @param sections as measured, with what `askSections` added; `nominal` gives the requirement where the plan gives none
 * @param method how the part was placed, null where placement does not matter
 * @param definitions choices for whole quantities; those of the plan unless given
 */
export function judgeCharacteristics(
  sections: readonly SectionResult[],
  trends: Trends | null,
  zones: readonly ZoneDeviation[],
  plan: Plan | null,
  method: Alignment['method'] | null,
  definitions: readonly PlanDefinition[] = plan?.definitions ?? [],
): Characteristic[] {
  const rows: Characteristic[] = [];
  const taken = new Map<string, number>();
  let last = 0;
  const add = (row: Row, number?: number) => {
    last = Math.max(last, number ?? last + 1);
    const { id, ...rest } = row;
    const times = (taken.get(id) ?? 0) + 1;
    taken.set(id, times);
    rows.push({ id: times === 1 ? id : numbered(id, times), number: number ?? last, ...rest });
  };
  for (const { item, entry } of wantedRows(sections, trends !== null, plan, definitions)) {
    if (entry.scope === 'span') {
      const value = trends ? (trends[entry.of as keyof Trends] as Value) : noTrend(entry);
      const subject = { section: null, value, parameters: undefined, own: null, size: spanSize(entry, sections) };
      add(judgeRow(item, entry, subject, plan, method), item.number);
      continue;
    }
    for (const section of sections)
      if (!item.sections || item.sections.includes(section.id))
        add(judgeRow(item, entry, sectionSubject(section, item, entry, definitions, plan), plan, method), item.number);
  }
  for (const zone of zones) if (zone.lower !== null || zone.upper !== null) add(profileRow(zone, method));
  return rows;
}

/** The id of a further row of the same quantity and section, such as `chord#2@4`. */
function numbered(id: string, times: number): string {
  const [path, ...section] = id.split('@');
  return [`${path}#${times}`, ...section].join('@');
}

function noTrend(entry: CatalogueEntry): Value {
  const reason = 'Too few sections are measured for a trend over the span.';
  return unmeasured('not-measured', reason, entry.unit, entry.definition);
}
