import type { Characteristic, Results } from '../model/results.ts';
import { BUDGET_SOURCES } from './budget-text.ts';
import { csvText } from './csv.ts';
import { parametersText } from './definition-text.ts';
import { decimalsFor, formatNumber } from './format-number.ts';
import { VERDICT_WORDS } from './svg/verdict-shape.ts';

/**
 * Field titles: those of a first-article table, then what a measured value needs beside them, last the parts of U.
 */
export const CHARACTERISTIC_FIELDS = [
  'Characteristic no.',
  'Reference location',
  'Characteristic designator',
  'Requirement',
  'Result',
  'Nonconformance no.',
  'Comment',
  'Definition',
  'Unit',
  'Nominal',
  'Lower limit',
  'Upper limit',
  'Deviation',
  'Out of tolerance',
  'U (k=2)',
  'Verdict',
  'Alignment',
  'Coverage %',
  'Parameters',
  ...BUDGET_SOURCES.map(({ word }) => `U ${word}` as const),
] as const;

/** Requirement in words: "0.2 to 0.3", "at least 0.2", "at most 0.3", or the nominal value alone. */
export function requirementText(row: Characteristic, minus: '−' | '-' = '−'): string {
  const { nominal, lower, upper, unit } = row.requirement;
  const limits = [lower, upper];
  const text = (value: number) => formatNumber(value, { unit, minus, limits });
  if (lower !== null && upper !== null) return `${text(lower)} to ${text(upper)}`;
  if (lower !== null) return `at least ${text(lower)}`;
  if (upper !== null) return `at most ${text(upper)}`;
  return nominal === null ? 'no limit' : `${text(nominal)}, no limit`;
}

/** Where a characteristic is, such as "Section 4" or "Whole span". */
export function locationText(row: Characteristic): string {
  return row.section === null ? 'Whole span' : `Section ${row.section}`;
}

/**
 * The characteristic table as CSV. The result is rounded as in the report, limits and deviations are in full precision.
 * The nonconformance number and the comment are left to the reader, the comment holding the reason where there is one.
 * @param separator ',' or ';'
 */
export function characteristicsCsv(results: Results, separator: ',' | ';' = ','): string {
  const lines = (results.characteristics ?? []).map((row) => {
    const { nominal, lower, upper, unit } = row.requirement;
    const decimals = decimalsFor({ unit, limits: [lower, upper], u: row.u });
    return [
      row.number,
      locationText(row),
      row.name,
      requirementText(row, '-'),
      row.value === null ? VERDICT_WORDS['not-measured'] : Number(row.value.toFixed(decimals)),
      '',
      row.reason ?? '',
      row.definition,
      unit,
      nominal,
      lower,
      upper,
      row.deviation,
      row.outOfTolerance,
      row.u === null ? null : 2 * row.u,
      VERDICT_WORDS[row.verdict],
      row.alignment,
      row.coverage === null ? null : Math.floor(1000 * row.coverage + 1e-9) / 10,
      parametersText(row.parameters),
      ...BUDGET_SOURCES.map(({ key }) => {
        const part = row.budget?.[key];
        return part === undefined ? null : 2 * part;
      }),
    ];
  });
  return csvText([[...CHARACTERISTIC_FIELDS], ...lines], separator);
}
