import type { Characteristic, Results, SectionResult } from '../../src/model/results.ts';
import type { Value } from '../../src/model/value.ts';
import type { TrendSeries } from '../../src/report/svg/trend-geometry.ts';
import { stockSeries } from './stock-levels.ts';

/** Quantities shown over the span, by path of the value in a section result, with a short name. */
const QUANTITIES: [string, string][] = [
  ['twistFitDeg', 'twist'],
  ['chordFar', 'chord'],
  ['thicknessMax', 'thickness'],
  ['leadingEdge.radiusFit', 'LE radius'],
  ['trailingEdge.radiusFit', 'TE radius'],
];

function valueAt(record: unknown, path: string): Value | null {
  let at = record as Record<string, unknown> | undefined;
  for (const key of path.split('.')) at = at?.[key] as Record<string, unknown> | undefined;
  return at && typeof at === 'object' && 'definition' in at ? (at as unknown as Value) : null;
}

function measuredAt(section: SectionResult, path: string): Value | null {
  return valueAt(section.measured, path) ?? valueAt(section, path);
}

/** One series a quantity that occurs, of a blank its least and most stock; requirement and verdict are those of its characteristic, where it has one. */
export function trendSeriesOf(results: Results): TrendSeries[] {
  if (results.stock) return stockSeries(results);
  const sections = [...results.sections].sort((a, b) => a.height - b.height);
  const rowOf = (path: string, id: string): Characteristic | undefined =>
    results.characteristics?.find((c) => c.id === `${path}@${id}`);
  return QUANTITIES.flatMap(([of, name]) => {
    const values = sections.map((s) => measuredAt(s, of));
    const unit = values.find((v) => v !== null)?.unit;
    if (unit === undefined) return [];
    const rows = sections.map((s) => rowOf(of, s.id));
    return [
      {
        of,
        name,
        unit,
        sections: sections.map((s) => s.id),
        heights: sections.map((s) => s.height),
        value: values.map((v) => v?.value ?? null),
        u: values.map((v, i) => rows[i]?.u ?? v?.u ?? null),
        nominal: sections.map((s, i) => rows[i]?.requirement.nominal ?? valueAt(s.nominal, of)?.value ?? null),
        lower: rows.map((r) => r?.requirement.lower ?? null),
        upper: rows.map((r) => r?.requirement.upper ?? null),
        verdict: values.map((v, i) => rows[i]?.verdict ?? (v?.value == null ? 'not-measured' : 'no-limit')),
      },
    ];
  });
}
