import { resultsToJson } from '../report/results-json.ts';
import { nameFile } from '../worker/name-file.ts';
import { BLANK_OPTIONS, placementAsked } from './blank-job.ts';
import type { Command } from './command.ts';
import { exitCodeOf } from './exit-code.ts';
import { partJob, reportDate } from './part-job.ts';
import { isOwnResult } from './result-files.ts';
import { stockFiles, stockNames } from './stock-files.ts';
import { stockText } from './stock-text.ts';
import { withThreads } from './with-threads.ts';
import { refuseForeign, writeFiles } from './write-files.ts';

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
          .positional('nominal', {
            type: 'string',
            demandOption: true,
            describe: 'Finished shape: section table or mesh',
          })
          .positional('blank', { type: 'string', array: true, demandOption: true, describe: 'Scans of the blank' })
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
          const { talk, context } = job;
          const { folder, choice, threads, read } = partJob(argv.nominal, argv.blank, argv);
          const asked = placementAsked(argv);
          refuseForeign(folder, stockNames(choice), argv.force, isOwnResult);
          const input = await read(context);
          const { reviewBlank } = await import('../review-blank.ts');
          const names = input.measured.map(({ name }) => name);
          const { results, drawing } = await nameFile(input.nominal.name, names, () =>
            withThreads(threads, job, (inner) => reviewBlank(input, inner, asked(input))),
          );
          const files = stockFiles(results, drawing, input.plan?.plan ?? null, choice, reportDate(new Date()));
          const paths = await writeFiles(folder, files, context);
          for (const warning of results.warnings) talk.warn(warning);
          const { map: _, ...bare } = results;
          if (talk.json) talk.print(resultsToJson(choice.withMap ? results : bare));
          else talk.print(stockText(results, paths, talk));
          return exitCodeOf(results, argv.strict);
        }),
    ),
};
