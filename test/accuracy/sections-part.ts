import { REFERENCE_SECTIONS, type ReferenceName } from '../support/reference-sections.ts';
import { efficientSpreads } from './efficient-spread.ts';
import { inWorkers } from './in-workers.ts';
import type { SeedJob } from './jobs.ts';
import type { Outcome, Part, Summary } from './part.ts';
import referenceFigures from './reference-figures.json';
import { mergeErrors, type RowErrors, statisticsOfRows } from './row-statistics.ts';
import { NOISES, POINTS, pivotOf, type SeedTask } from './section-statistics.ts';
import { type Cell, cellOf, type Totals, tableOf, totalLines, totalsOf } from './section-table.ts';

/** Sections of noisy random points. What is promised of their rows, from this many seeds on: */
const SECTION_LIMITS = {
  leastSeeds: 200,
  /** Geometric mean of all medians and 95 % figures against the reference figures. */
  meanRatio: 1,
  /** Cells above 1.25 times theirs. */
  cellsAbove: 0,
  /** Share of all readings within ± 2 u of the truth. */
  coverage: [0.92, 0.98],
  /** Share of the rows whose own coverage is out of its 99.9 % bounds. */
  outOfBounds: 0.01,
  biasedRows: 0,
} as const;

const FIRST_SEED = 1;
/** Seeds a task: short enough to keep both threads busy to the end. */
const STRETCH = 25;
const NAMES = Object.keys(REFERENCE_SECTIONS) as ReferenceName[];
const REFERENCE: Record<ReferenceName, Record<string, number[][]>> = referenceFigures;
/** Measured on raw points: the figure that a fit has to beat, and no row of it. */
const RAW = 'raw_chord_max';

/** A part of a job done over seeds of every section and noise: how many seeds, and how the points are measured. */
export function seedsPart(job: SeedJob, count: number, how: string): Part {
  return { count, of: 'seeds', run: (seeds) => runSeeds(job, seeds, how) };
}

async function runSeeds(job: SeedJob, seeds: number, how: string): Promise<Outcome> {
  const places = NAMES.flatMap((name) => NOISES.map((noise) => ({ name, noise })));
  const errors = await errorsBySeeds(job, places, seeds);
  const cells = places.map(({ name, noise }, k) => cellsOf(name, noise, errors[k]));
  const missing = places.flatMap(({ name, noise }, k) =>
    Object.keys(REFERENCE[name])
      .filter((row) => row !== RAW && (errors[k].get(row)?.length ?? 0) < seeds)
      .map((row) => `${name} ${1000 * noise} ${row}`),
  );
  const totals = totalsOf(cells.flat());
  const lines = places.flatMap(({ name, noise }, k) => [
    `${name}, ${1000 * noise} um noise, seeds ${FIRST_SEED} to ${FIRST_SEED + seeds - 1}`,
    `${tableOf(cells[k])}\n`,
  ]);
  lines.push(...totalLines(totals));
  if (missing.length > 0) lines.push(`rows not measured at every seed: ${missing.join(', ')}`);
  return { lines, broken: brokenOf(totals, missing, seeds), summary: summaryOf(cells, totals, seeds, how) };
}

/** Errors of every place over all seeds: stretches done in threads, then joined in order. */
export async function errorsBySeeds(
  job: SeedJob,
  places: Pick<SeedTask, 'name' | 'noise'>[],
  seeds: number,
): Promise<RowErrors[]> {
  const stretches: number[] = [];
  for (let from = FIRST_SEED; from < FIRST_SEED + seeds; from += STRETCH) stretches.push(from);
  const last = FIRST_SEED + seeds;
  const tasks = places.flatMap((place) =>
    stretches.map((from): SeedTask => ({ ...place, from, count: Math.min(STRETCH, last - from) })),
  );
  const parts = await inWorkers(job, tasks);
  return places.map((_, k) => mergeErrors(parts.slice(k * stretches.length, (k + 1) * stretches.length)));
}

function cellsOf(name: ReferenceName, noise: number, errors: RowErrors): Cell[] {
  const limits = efficientSpreads(name, noise, POINTS, pivotOf(name));
  const level = NOISES.indexOf(noise);
  return [...statisticsOfRows(errors)].map(([row, found]) =>
    cellOf({ section: name, noise, row }, found, REFERENCE[name][row]?.[level] ?? null, limits.get(row) ?? null),
  );
}

function brokenOf(totals: Totals, missing: string[], seeds: number): string[] {
  if (seeds < SECTION_LIMITS.leastSeeds) return [];
  const { meanRatio, cellsAbove, coverage, outOfBounds, biasedRows } = SECTION_LIMITS;
  const promises: [boolean, string][] = [
    [(totals.ratio ?? 0) <= meanRatio, `geometric mean of the ratios above ${meanRatio}`],
    [totals.above.length <= cellsAbove, `${totals.above.length} figures above 1.25 times the reference figure`],
    [totals.covered >= coverage[0] && totals.covered <= coverage[1], 'coverage of ±2u out of 95 ± 3 %'],
    [
      totals.outOfBounds.length <= outOfBounds * totals.cells,
      `${totals.outOfBounds.length} rows with coverage out of its bounds`,
    ],
    [totals.biased.length <= biasedRows, `${totals.biased.length} rows biased by a third of their spread`],
    [missing.length === 0, `${missing.length} rows not measured at every seed`],
  ];
  return promises.filter(([kept]) => !kept).map(([, what]) => what);
}

/** Rows of the README by their names in the three sections. */
const SHOWN: [string, string[]][] = [
  ['chord CH-FAR, µm', ['chord.max']],
  ['stagger CH-FAR, 0.001°', ['stagger_deg.max']],
  ['largest thickness, µm', ['max_thickness']],
  ['thickness at half the chord, µm', ['thickness_inscribed.0.5']],
  ['camber angle, 0.001°', ['camber_angle_deg']],
  ['area, 0.001 mm²', ['area']],
  ['thickness 2 mm from the leading edge, µm', ['le_thickness_2mm']],
  ['leading edge radius, or b at known a : b, µm', ['le_radius', 'le_semi_minor_fixed_ratio']],
  ['trailing edge radius, or b at known a : b, µm', ['te_radius', 'te_semi_minor_fixed_ratio']],
];
const SHOWN_NOISE = 0.005;

function summaryOf(cells: Cell[][], totals: Totals, seeds: number, how: string): Summary {
  const figure = (section: string, rows: string[]) => {
    const cell = cells.flat().find((c) => c.section === section && c.noise === SHOWN_NOISE && rows.includes(c.row));
    return cell ? `${cell.found.median.toFixed(2)} / ${cell.found.p95.toFixed(2)}` : '';
  };
  return {
    title:
      `Three closed-form sections as random points (${POINTS.edge} an edge, ${POINTS.flank} a flank), ${how}, ` +
      `${seeds} seeds at 3, 5 and 10 µm noise: ±2u holds the truth in ${(100 * totals.covered).toFixed(1)} % of ` +
      `${totals.known} readings; bias above a third of the spread in ${totals.biased.length} of ${totals.cells} rows. ` +
      'Median / 95 % of the absolute errors at 5 µm noise:',
    head: [
      '',
      ...NAMES.map((name) => ({ round: 'circular edges', elliptic: 'elliptic edges', turbine: 'turbine' })[name]),
    ],
    rows: SHOWN.map(([name, rows]) => [name, ...NAMES.map((section) => figure(section, rows))]),
  };
}
