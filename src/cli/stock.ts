import { BLANK_FILES, BLANK_OPTIONS, placementAsked } from './blank-job.ts';
import type { Command } from './command.ts';
import { runPart } from './run-part.ts';
import { stockFiles, stockNames } from './stock-files.ts';
import { stockText } from './stock-text.ts';

/** `stock NOMINAL BLANK...`: is there stock everywhere, which placement shares it, what goes into the control. */
export const stockCommand: Command = {
  name: 'stock',
  options: BLANK_OPTIONS,
  add: (cli, run) =>
    cli.command(
      'stock <nominal> <blank..>',
      'Review a blank: stock everywhere, placement that shares it, values for the control',
      (y) =>
        y
          .positional('nominal', BLANK_FILES.nominal)
          .positional('blank', BLANK_FILES.blank)
          .options(BLANK_OPTIONS)
          .example(
            '$0 stock blade.csv blank.ply --plan plan.json',
            'Stock as placed by best fit, and a better placement',
          )
          .example(
            '$0 stock blade.csv blank.ply --fit share-stock --map ply',
            'Stock shared evenly, with a coloured map',
          ),
      (argv) =>
        run(argv, async (job) => {
          const asked = placementAsked(argv);
          return runPart(job, { nominal: argv.nominal, measured: argv.blank }, argv, {
            names: stockNames,
            work: async (input, context) =>
              (await import('../review-blank.ts')).reviewBlank(input, context, asked(input)),
            files: ({ results, drawing }, plan, choice, date) => stockFiles(results, drawing, plan, choice, date),
            text: stockText,
          });
        }),
    ),
};
