import type { Characteristic, Results } from '../../model/results.ts';
import { definitionText } from '../definition-text.ts';
import type { TrendSeries } from './trend-geometry.ts';

/** Path of the value a row stands for: its id up to the section. */
export function pathOfRow(row: Characteristic): string {
  return row.id.split('@')[0];
}

/**
 * One series a quantity and definition that is judged at two or more sections, in the order of the table; heights rise. Planes across Z
 * only: sections of different kinds do not compare.
 */
export function trendSeries(results: Results): TrendSeries[] {
  const heights = new Map(
    results.sections.filter((section) => section.cut === undefined).map((section) => [section.id, section.height]),
  );
  const groups = new Map<string, Characteristic[]>();
  for (const row of results.characteristics ?? []) {
    if (row.section === null || !heights.has(row.section)) continue;
    const key = `${pathOfRow(row)} ${row.definition}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  const kept = [...groups.values()].filter((rows) => rows.length > 1 && rows.some((row) => row.value !== null));
  const sameName = (name: string) => kept.filter((rows) => rows[0].name === name).length > 1;
  return kept.map((unsorted) => {
    const rows = [...unsorted].sort((a, b) => heights.get(a.section!)! - heights.get(b.section!)!);
    return {
      of: pathOfRow(rows[0]),
      name: sameName(rows[0].name) ? `${rows[0].name}, ${definitionText(rows[0])}` : rows[0].name,
      unit: rows[0].requirement.unit,
      sections: rows.map((row) => row.section!),
      heights: rows.map((row) => heights.get(row.section!)!),
      value: rows.map((row) => row.value),
      u: rows.map((row) => row.u),
      nominal: rows.map((row) => row.requirement.nominal),
      lower: rows.map((row) => row.requirement.lower),
      upper: rows.map((row) => row.requirement.upper),
      verdict: rows.map((row) => row.verdict),
    };
  });
}

/**
 * The series as deviations from nominal, so that a limit's width fills the panel where the value itself changes over the
 * span; unchanged when some nominal is missing or all are zero.
 */
export function aboutNominal(series: TrendSeries): TrendSeries {
  if (series.nominal.some((nominal) => nominal === null) || series.nominal.every((nominal) => nominal === 0))
    return series;
  const from = (values: readonly (number | null)[]) =>
    values.map((value, i) => (value === null ? null : value - series.nominal[i]!));
  return {
    ...series,
    aboutNominal: true,
    value: from(series.value),
    nominal: series.nominal.map(() => 0),
    lower: from(series.lower),
    upper: from(series.upper),
  };
}
