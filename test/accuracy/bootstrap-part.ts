import { table } from '../bench/rounds.ts';
import { REFERENCE_SECTIONS, type ReferenceName } from '../support/reference-sections.ts';
import type { BootstrapTask } from './bootstrap.ts';
import { inWorkers } from './in-workers.ts';
import type { Outcome, Part } from './part.ts';
import { truths } from './section-statistics.ts';

/** Stated u against the spread over resampled points. What is promised of the main rows, from 200 resamplings on: */
const BOOTSTRAP_LIMITS = {
  leastResamplings: 200,
  /** u over the spread of the resamplings (itself known to 5 % from 200): independent and correlated noise. */
  independent: [0.75, 1.35],
  correlated: [0.7, 1.5],
} as const;

const MAIN = [
  'chord.max',
  'stagger_deg.max',
  'max_thickness',
  'thickness_inscribed.0.5',
  'camber_angle_deg',
  'area',
  'le_thickness_2mm',
  'te_thickness_2mm',
  'le_radius',
  'te_radius',
  'le_semi_minor_fixed_ratio',
  'te_semi_minor_fixed_ratio',
];
const NOISE = 0.005;
const CORRELATION = 0.5;
const SEED = 1;
/** Without the correlation of neighbours nothing of a first-order autoregression is left over two points. */
const BLOCK = 2;

export const bootstrapPart: Part = { count: 200, of: 'resamplings', run: runBootstrap };

async function runBootstrap(resamplings: number): Promise<Outcome> {
  const names = Object.keys(REFERENCE_SECTIONS) as ReferenceName[];
  const tasks = [0, CORRELATION].flatMap((correlation) =>
    names.map((name): BootstrapTask => ({ name, noise: NOISE, correlation, block: BLOCK, resamplings, seed: SEED })),
  );
  const found = await inWorkers('bootstrap', tasks);
  const rows = tasks.flatMap(({ name, correlation }, k) =>
    found[k].map(({ row, u, spread, shift }) => {
      const [low, high] = correlation > 0 ? BOOTSTRAP_LIMITS.correlated : BOOTSTRAP_LIMITS.independent;
      const ratio = u / spread;
      const main = MAIN.includes(row);
      const out = main && !(ratio >= low && ratio <= high);
      const title = `${name} r ${correlation} ${row}`;
      return { title, correlation, ratio, main, out, cells: [title, u, spread, ratio, shift / spread] as const };
    }),
  );
  const lost = tasks.flatMap(({ name, correlation }, k) =>
    MAIN.filter((row) => truths(name).has(row) && !found[k].some((each) => each.row === row)).map(
      (row) => `${name} r ${correlation} ${row}: not measured, or no u`,
    ),
  );
  const judged = resamplings >= BOOTSTRAP_LIMITS.leastResamplings;
  const range = (correlation: number) => {
    const own = rows.filter((row) => row.main && row.correlation === correlation).map(({ ratio }) => ratio);
    const mean = Math.exp(own.reduce((sum, ratio) => sum + Math.log(ratio), 0) / own.length);
    return [Math.min(...own), mean, Math.max(...own)].map((value) => value.toFixed(2));
  };
  const head = ['section, correlation, row', 'u', 'spread', 'u / spread', 'shift / spread', 'marks'];
  const body = rows.map(({ cells: [title, ...numbers], main, out }) => [
    title,
    ...numbers.map((value) => value.toFixed(3)),
    `${main ? 'm' : ''}${out ? 'U' : ''}`,
  ]);
  return {
    lines: [
      `${1000 * NOISE} um noise, ${resamplings} resamplings in blocks of ${BLOCK} points, seed ${SEED}; m: main row, U: u out of its limits`,
      table([head, ...body]),
      ...lost,
    ],
    broken: judged
      ? [
          ...rows.filter(({ out }) => out).map(({ title, ratio }) => `${title}: u / spread ${ratio.toFixed(2)}`),
          ...lost,
        ]
      : [],
    summary: {
      title: `Stated u over the spread of ${resamplings} refits to resampled residuals, main characteristics of three sections:`,
      head: ['noise from point to point', 'least', 'mean', 'greatest'],
      rows: [
        ['independent', ...range(0)],
        [`correlated, r = ${CORRELATION}`, ...range(CORRELATION)],
      ],
    },
  };
}
