import { resultsToJson } from '../report/results-json.ts';
import { nameFile } from '../worker/name-file.ts';
import type { Command } from './command.ts';
import { exitCodeOf } from './exit-code.ts';
import { inspectText } from './inspect-text.ts';
import { PART_OPTIONS, partJob, reportDate } from './part-job.ts';
import { isOwnResult, resultFiles, resultNames } from './result-files.ts';
import { withThreads } from './with-threads.ts';
import { refuseForeign, writeFiles } from './write-files.ts';

/** `inspect NOMINAL MEASURED...`: the whole job. */
export const inspectCommand: Command = {
  name: 'inspect',
  options: PART_OPTIONS,
  add: (cli, run) =>
    cli.command(
      'inspect <nominal> <measured..>',
      'Place, compare, measure and judge a part; write results, table and report',
      (y) =>
        y
          .positional('nominal', { type: 'string', demandOption: true, describe: 'Section table or mesh' })
          .positional('measured', { type: 'string', array: true, demandOption: true, describe: 'Scans of the part' })
          .options(PART_OPTIONS)
          .example('$0 inspect blade.csv scan.ply --plan plan.json', 'Results in the folder results beside scan.ply')
          .example('$0 inspect blade.csv scan.stl --unit-measured inch --json', 'Results document on stdout as well'),
      (argv) =>
        run(argv, async (job) => {
          const { talk, context } = job;
          const { folder, choice, threads, read } = partJob(argv.nominal, argv.measured, argv);
          refuseForeign(folder, resultNames(choice), argv.force, isOwnResult);
          const input = await read(context);
          const { inspect } = await import('../pipeline.ts');
          const names = input.measured.map(({ name }) => name);
          const { results, drawing } = await nameFile(input.nominal.name, names, () =>
            withThreads(threads, job, (inner) => inspect(input, inner)),
          );
          const files = resultFiles(results, drawing, input.plan?.plan ?? null, choice, reportDate(new Date()));
          const paths = await writeFiles(folder, files, context);
          for (const warning of results.warnings) talk.warn(warning);
          const { map: _, ...bare } = results;
          if (talk.json) talk.print(resultsToJson(choice.withMap ? results : bare));
          else talk.print(inspectText(results, paths, talk));
          return exitCodeOf(results, argv.strict);
        }),
    ),
};
