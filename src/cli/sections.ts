import { resultsToJson } from '../report/results-json.ts';
import { nameFile } from '../worker/name-file.ts';
import type { Command } from './command.ts';
import { exitCodeOf } from './exit-code.ts';
import { MEASURE_OPTIONS, PROBE_OPTIONS, UNIT_OPTION, unitOf } from './options.ts';
import { readPlanFile, readShapeFile } from './read-input.ts';
import { rowLines } from './rows-text.ts';
import { sectionTableText } from './sections-text.ts';
import { settingsOf } from './settings.ts';

const OPTIONS = {
  ...MEASURE_OPTIONS,
  ...PROBE_OPTIONS,
  ...UNIT_OPTION,
  strict: { type: 'boolean', default: false, describe: 'Exit 4 when anything is not proven or not measured' },
} as const;

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
        run(argv, async ({ talk, context }) => {
          const settings = settingsOf({ ...argv, leadingEdge: argv['leading-edge'], tipRadius: argv['tip-radius'] });
          const plan = argv.plan === undefined ? undefined : await readPlanFile(argv.plan);
          const shape = await readShapeFile(argv.shape, unitOf('--unit', argv.unit), context);
          const { measureShape } = await import('../pipeline.ts');
          const input = { shape, settings, ...(plan === undefined ? {} : { plan }) };
          const { results } = await nameFile(shape.name, [shape.name], () => measureShape(input, context));
          for (const warning of results.warnings) talk.warn(warning);
          talk.print(
            talk.json
              ? resultsToJson(results)
              : [results.answers.sections?.text, sectionTableText(results), ...rowLines(results, talk)].join('\n'),
          );
          return exitCodeOf(results, argv.strict);
        }),
    ),
};
