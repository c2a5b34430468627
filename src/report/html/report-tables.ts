import { SIDE_WORDS } from '../../judge/side-words.ts';
import type { Characteristic, PlacedValue, Results, ZoneDeviation } from '../../model/results.ts';
import { locationText, requirementText } from '../characteristics-csv.ts';
import { definitionText } from '../definition-text.ts';
import { formatNumber, formatU, percentText, unitText } from '../format-number.ts';
import { type Column, type Html, tableHtml, text, verdictHtml } from './html-parts.ts';

function styleOf(row: Characteristic) {
  return { unit: row.requirement.unit, limits: [row.requirement.lower, row.requirement.upper], u: row.u };
}

/** Deviation from nominal, and the amount beyond a limit below it where there is one. */
function deviationCell(row: Characteristic): Html {
  if (row.deviation === null && !row.outOfTolerance) return '–';
  const deviation = formatNumber(row.deviation, { ...styleOf(row), signed: true });
  const over = row.outOfTolerance
    ? `<br>out ${formatNumber(row.outOfTolerance, { ...styleOf(row), signed: true })}`
    : '';
  return `${deviation}${over}`;
}

const COLUMNS: Column<Characteristic>[] = [
  { head: 'No.', kind: 'n', cell: (row) => String(row.number) },
  { head: 'Reference location', cell: (row) => text(locationText(row)) },
  { head: 'Characteristic', cell: (row) => `${text(row.name)} <small>[${text(definitionText(row))}]</small>` },
  {
    head: 'Requirement',
    cell: (row) => text(`${requirementText(row)} ${unitText(row.requirement.unit)}`.trim()),
  },
  { head: 'Result', kind: 'n', cell: (row) => (row.value === null ? '–' : formatNumber(row.value, styleOf(row))) },
  { head: 'Deviation', kind: 'n', cell: deviationCell },
  { head: 'U (k=2)', kind: 'n', cell: (row) => formatU(row.u) },
  { head: 'Verdict', kind: 'word', cell: (row) => verdictHtml(row.verdict) },
  { head: 'Placed', cell: (row) => text(row.alignment === 'none' ? '–' : row.alignment) },
  {
    head: 'Cover',
    kind: 'n',
    cell: (row) => (row.coverage === null ? '–' : percentText(row.coverage).replace(' %', '')),
  },
  { head: 'Nonconf. no., comment', kind: 'write', cell: () => '' },
];

/** The first-article table. */
export function characteristicTable(results: Results): Html {
  return tableHtml(COLUMNS, results.characteristics ?? [], (row) => (row.verdict === 'fail' ? 'fail' : ''));
}

/** Rows that prove nothing, with their reasons: not measured and not proven. */
export function openTable(results: Results): Html {
  const rows = (results.characteristics ?? []).filter(
    (row) => row.verdict === 'not-measured' || row.verdict === 'not-proven' || (row.value === null && row.reason),
  );
  return tableHtml<Characteristic>(
    [
      { head: 'No.', kind: 'n', cell: (row) => String(row.number) },
      { head: 'Reference location', cell: (row) => text(locationText(row)) },
      { head: 'Characteristic', cell: (row) => text(row.name) },
      { head: 'Verdict', kind: 'word', cell: (row) => verdictHtml(row.verdict) },
      { head: 'Reason', cell: (row) => text(row.reason ?? '') },
    ],
    rows,
  );
}

function placed(value: PlacedValue): Html {
  if (value.value === null) return '–';
  const amount = formatNumber(value.value, { unit: 'mm', signed: true, u: value.u });
  const where = value.place
    ? `<br><small>height ${value.place.height.toFixed(1)} mm, ${SIDE_WORDS[value.place.side]}</small>`
    : '';
  return `${amount}${where}`;
}

/** The zones: extremes with place, zone value against width, coverage and verdict. */
export function zoneTable(results: Results): Html {
  return tableHtml<ZoneDeviation>(
    [
      { head: 'Zone', cell: (zone) => text(zone.zone) },
      { head: 'Lower limit', kind: 'n', cell: (zone) => formatNumber(zone.lower, { signed: true }) },
      { head: 'Upper limit', kind: 'n', cell: (zone) => formatNumber(zone.upper, { signed: true }) },
      { head: 'Least', cell: (zone) => placed(zone.least) },
      { head: 'Most', cell: (zone) => placed(zone.most) },
      {
        head: 'Zone value V',
        kind: 'n',
        cell: (zone) => formatNumber(zone.profileValue.value, { u: zone.profileValue.u }),
      },
      { head: 'U (k=2) of V', kind: 'n', cell: (zone) => formatU(zone.profileValue.u) },
      { head: 'Measured', kind: 'n', cell: (zone) => percentText(zone.coverage) },
      {
        head: 'Verdict',
        cell: (zone) => `${verdictHtml(zone.verdict)}${zone.reason ? `<br><small>${text(zone.reason)}</small>` : ''}`,
      },
    ],
    results.deviation?.zones ?? [],
    (zone) => (zone.verdict === 'fail' ? 'fail' : ''),
  );
}

/** Measured share by section. */
export function coverageTable(results: Results): Html {
  return tableHtml<Results['sections'][number]>(
    [
      { head: 'Section', cell: (section) => text(section.id) },
      { head: 'Height mm', kind: 'n', cell: (section) => section.height.toFixed(3) },
      { head: 'Measured', kind: 'n', cell: (s) => (s.coverage === null ? '–' : percentText(s.coverage)) },
      { head: 'Edge faults', cell: (section) => text(faults(section)) },
    ],
    results.sections,
  );
}

function faults(section: Results['sections'][number]): string {
  const found = [
    ...(section.measured?.leadingEdge.faults ?? []).map((fault) => `leading edge: ${fault.message}`),
    ...(section.measured?.trailingEdge.faults ?? []).map((fault) => `trailing edge: ${fault.message}`),
  ];
  return found.length ? found.join(' ') : section.measured ? 'none' : '–';
}

/** Input files with their hashes. */
export function inputTable(results: Results): Html {
  const { nominal, measured, plan } = results.inputs;
  const size = (box: { min: number[]; max: number[] }) =>
    box.max.map((max, i) => (max - box.min[i]).toFixed(2)).join(' × ');
  const rows = [
    ...(nominal ? [{ role: 'Nominal', ...nominal }] : []),
    ...(measured ?? []).map((input) => ({ role: 'Measured', ...input })),
  ].map((input) => ({
    role: input.role,
    name: input.name,
    about: `${input.format}, ${input.unit}${input.points === undefined ? '' : `, ${input.points} points`}${
      input.triangles === undefined ? '' : `, ${input.triangles} triangles`
    }, ${size(input.box)} mm`,
    sha256: input.sha256,
  }));
  if (plan) rows.push({ role: 'Plan', name: plan.name, about: '', sha256: plan.sha256 });
  return tableHtml<(typeof rows)[number]>(
    [
      { head: 'Input', cell: (row) => row.role },
      { head: 'File', kind: 'break', cell: (row) => text(row.name) },
      { head: 'Format, unit, size', cell: (row) => text(row.about) },
      { head: 'SHA-256', kind: 'break', cell: (row) => text(row.sha256) },
    ],
    rows,
  );
}

/** Warnings with place and remedy. */
export function warningTable(results: Results): Html {
  return tableHtml<Results['warnings'][number]>(
    [
      { head: 'Code', kind: 'word', cell: (row) => text(row.code) },
      { head: 'What', cell: (row) => text(row.message) },
      { head: 'Where', cell: (row) => text(row.where ?? '–') },
      { head: 'What to do', cell: (row) => text(row.remedy ?? '–') },
    ],
    results.warnings,
  );
}

/** Every effective setting, in the order of their names. */
export function settingTable(results: Results): Html {
  const rows = Object.entries(results.settings).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
  return tableHtml<[string, unknown]>(
    [
      { head: 'Setting', cell: ([name]) => text(name) },
      {
        head: 'Value',
        kind: 'break',
        cell: ([, value]) => text(typeof value === 'string' ? value : (JSON.stringify(value) ?? 'none')),
      },
    ],
    rows,
  );
}
