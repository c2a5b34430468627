import { adaptFiles, adaptNames } from './adapt-files.ts';
import { adaptText } from './adapt-text.ts';
import { BLANK_FILES, BLANK_OPTIONS, placementAsked } from './blank-job.ts';
import type { Command } from './command.ts';
import { oneOf } from './options.ts';
import { runPart } from './run-part.ts';

const METHODS = ['edges', 'whole'] as const;
const OPTIONS = {
  ...BLANK_OPTIONS,
  method: {
    type: 'string',
    default: 'edges',
    describe: 'edges: flanks stay, edges are built; whole: the blade moves within its profile',
  },
} as const;

/** `adapt NOMINAL BLANK...`: the finished blade adapted to flanks that stay as forged. */
export const adaptCommand: Command = {
  name: 'adapt',
  options: OPTIONS,
  add: (cli, run) =>
    cli.command(
      'adapt <nominal> <blank..>',
      'Adapt the finished blade to a near-net blank within its profile',
      (y) =>
        y
          .positional('nominal', BLANK_FILES.nominal)
          .positional('blank', BLANK_FILES.blank)
          .options(OPTIONS)
          .example('$0 adapt blade.csv blank.ply --plan plan.json', 'Adapted sections, surface and checks')
          .example(
            '$0 inspect adapted-sections.csv finished.ply',
            'The finished blade against what it was meant to be',
          ),
      (argv) =>
        run(argv, async (job) => {
          const asked = placementAsked(argv);
          const method = oneOf('--method', argv.method, METHODS);
          return runPart(job, { nominal: argv.nominal, measured: argv.blank }, argv, {
            names: adaptNames,
            work: async (input, context) =>
              (await import('../adapt-blank.ts')).adaptBlank(input, context, asked(input), method),
            files: adaptFiles,
            text: adaptText,
          });
        }),
    ),
};
