import type { Results } from '../model/results.ts';
import { resultsToJson } from '../report/results-json.ts';
import type { Command } from './command.ts';
import { exitCodeOf } from './exit-code.ts';
import { MEASURE_OPTIONS, threadsOf, UNIT_OPTION, unitOf } from './options.ts';
import { readPlanFile, readShapeFile } from './read-input.ts';
import { sectionTableText } from './sections-text.ts';
import { settingsOf } from './settings.ts';
import { withThreads } from './with-threads.ts';

const OPTIONS = {
  ...MEASURE_OPTIONS,
  ...UNIT_OPTION,
  strict: { type: 'boolean', default: false, describe: 'Exit 4 when anything is not proven or not measured' },
} as const;

/** The sentence that answers what was measured. */
function answer(results: Results): string {
  if (results.answers.sections !== undefined) return results.answers.sections.text;
  const heights = results.sections.map(({ height }) => height);
  const many = heights.length === 1 ? '1 section' : `${heights.length} sections`;
  return `${many} measured, heights ${heights[0]} to ${heights[heights.length - 1]} mm.`;
}

/** `sections SHAPE`: the values of a shape's own sections; no nominal needed. */
export const sectionsCommand: Command = {
  name: 'sections',
  options: OPTIONS,
  add: (cli, run) =>
    cli.command(
      'sections <shape>',
      'Measure the sections of one shape: chord, stagger, thickness, edges, angles',
      (y) =>
        y
          .positional('shape', { type: 'string', demandOption: true, describe: 'Section table, mesh or scan' })
          .options(OPTIONS)
          .example('$0 sections blade.csv', 'All sections of a table')
          .example('$0 sections blade.stl --heights 10,20,30 --json', 'Three sections as a results document'),
      (argv) =>
        run(argv, async (job) => {
          const { talk, context } = job;
          const settings = settingsOf({ ...argv, leadingEdge: argv['leading-edge'] });
          const threads = threadsOf(argv.threads);
          const plan = argv.plan === undefined ? undefined : await readPlanFile(argv.plan);
          const shape = await readShapeFile(argv.shape, unitOf('unit', argv.unit), context);
          const { measureShape } = await import('../pipeline.ts');
          const input = { shape, settings, ...(plan === undefined ? {} : { plan }) };
          const { results } = await withThreads(threads, job, (inner) => measureShape(input, inner));
          for (const warning of results.warnings) talk.warn(warning);
          talk.print(talk.json ? resultsToJson(results) : `${answer(results)}\n${sectionTableText(results)}`);
          return exitCodeOf(results, argv.strict);
        }),
    ),
};
