import { resultsToJson } from '../report/results-json.ts';
import { nameFile } from '../worker/name-file.ts';
import { adaptFiles, adaptNames } from './adapt-files.ts';
import { adaptText } from './adapt-text.ts';
import { BLANK_OPTIONS, placementAsked } from './blank-job.ts';
import type { Command } from './command.ts';
import { exitCodeOf } from './exit-code.ts';
import { oneOf } from './options.ts';
import { partJob, reportDate } from './part-job.ts';
import { isOwnResult } from './result-files.ts';
import { withThreads } from './with-threads.ts';
import { refuseForeign, removeOld, writeFiles } from './write-files.ts';

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
          .positional('nominal', {
            type: 'string',
            demandOption: true,
            describe: 'Finished shape: section table or mesh',
          })
          .positional('blank', { type: 'string', array: true, demandOption: true, describe: 'Scans of the blank' })
          .options(OPTIONS)
          .example('$0 adapt blade.csv blank.ply --plan plan.json', 'Adapted sections, surface and checks')
          .example(
            '$0 inspect adapted-sections.csv finished.ply',
            'The finished blade against what it was meant to be',
          ),
      (argv) =>
        run(argv, async (job) => {
          const { talk, context } = job;
          const { folder, choice, threads, read } = partJob(argv.nominal, argv.blank, argv);
          const asked = placementAsked(argv);
          const method = oneOf('--method', argv.method, METHODS);
          refuseForeign(folder, adaptNames(choice), argv.force, isOwnResult);
          const input = await read(context);
          const { adaptBlank } = await import('../adapt-blank.ts');
          const names = input.measured.map(({ name }) => name);
          const adapted = await nameFile(input.nominal.name, names, () =>
            withThreads(threads, job, (inner) => adaptBlank(input, inner, asked(input), method)),
          );
          const { results } = adapted;
          const files = adaptFiles(adapted, input.plan?.plan ?? null, choice, reportDate(new Date()));
          const paths = await writeFiles(folder, files, context);
          removeOld(folder, adaptNames(choice), files);
          for (const warning of results.warnings) talk.warn(warning);
          const { map: _, ...bare } = results;
          if (talk.json) talk.print(resultsToJson(choice.withMap ? results : bare));
          else talk.print(adaptText(results, paths, talk));
          return exitCodeOf(results, argv.strict);
        }),
    ),
};
