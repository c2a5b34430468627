import type { Command } from './command.ts';
import { inspectText } from './inspect-text.ts';
import { PART_OPTIONS } from './part-job.ts';
import { resultFiles, resultNames } from './result-files.ts';
import { runPart } from './run-part.ts';

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
        run(argv, (job) =>
          runPart(job, argv, argv, {
            names: resultNames,
            work: async (input, context) => (await import('../pipeline.ts')).inspect(input, context),
            files: ({ results, drawing }, plan, choice, date) => resultFiles(results, drawing, plan, choice, date),
            text: inspectText,
          }),
        ),
    ),
};
