import type { ReferenceName } from '../support/reference-sections.ts';
import type { Outcome, Part } from './part.ts';
import referenceFigures from './reference-figures.json';
import { statisticsOf } from './row-statistics.ts';
import { NOISES } from './section-statistics.ts';
import { errorsBySeeds } from './sections-part.ts';

/** Largest ratio of a median and of a 95 % figure of an edge thickness to those reached without a nominal. */
const MOST = 0.7;
const LEAST_SEEDS = 100;
const NAMES: ReferenceName[] = ['round', 'elliptic', 'turbine'];
const REFERENCE: Record<ReferenceName, Record<string, number[][]>> = referenceFigures;
const PROMISED = ['le_thickness_1mm', 'le_thickness_2mm', 'te_thickness_1mm', 'te_thickness_2mm'];
/** Shown without a promise: where an edge departs from its form, where the line of centres ends is loosely defined. */
const SHOWN = [...PROMISED, 'camber_angle_deg'];

/** Measured outlines from the nominal plus a smooth deviation of ±50 µm, each seed a part of its own. */
export const withNominalPart: Part = { count: 100, of: 'parts', run };

async function run(seeds: number): Promise<Outcome> {
  const places = NAMES.flatMap((name) => NOISES.map((noise) => ({ name, noise })));
  const errors = await errorsBySeeds('with-nominal', places, seeds);
  const lines: string[] = [];
  const broken: string[] = [];
  const rows: string[][] = [];
  places.forEach(({ name, noise }, k) => {
    for (const row of SHOWN) {
      const found = statisticsOf(errors[k].get(row) ?? []);
      const [median, p95] = REFERENCE[name][row][NOISES.indexOf(noise)];
      const ratios = [found.median / median, found.p95 / p95];
      const text = [
        found.median.toFixed(2),
        found.p95.toFixed(2),
        ...ratios.map((ratio) => ratio.toFixed(2)),
        (found.bias / found.spread).toFixed(2),
        found.z?.toFixed(2) ?? '',
      ];
      lines.push(
        `${name}, ${1000 * noise} um, ${row}: median ${text[0]}, 95 % ${text[1]}, ratios ${text[2]} ${text[3]}, bias/spread ${text[4]}, z ${text[5]}`,
      );
      if (noise === 0.005) rows.push([`${name}, ${row}`, `${text[0]} / ${text[1]}`, `${text[2]} / ${text[3]}`]);
      if (PROMISED.includes(row) && seeds >= LEAST_SEEDS && Math.max(...ratios) > MOST)
        broken.push(
          `${name}, ${1000 * noise} um, ${row}: ${Math.max(...ratios).toFixed(2)} times the figure without a nominal`,
        );
    }
  });
  return {
    lines,
    broken,
    summary: {
      title: `With the nominal, parts that depart smoothly by up to ±50 µm, 5 µm noise, ${seeds} parts: median / 95 % of the error (µm, 0.001°), and their ratios to an independent evaluation without a nominal`,
      head: ['characteristic', 'median / 95 %', 'ratios'],
      rows,
    },
  };
}
