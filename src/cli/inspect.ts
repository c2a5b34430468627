import { dirname, join, resolve } from 'node:path';
import { CamberwrightError } from '../error.ts';
import type { LoadedShape } from '../model/shape.ts';
import { resultsToJson } from '../report/results-json.ts';
import { nameFile } from '../worker/name-file.ts';
import type { Command } from './command.ts';
import { exitCodeOf } from './exit-code.ts';
import { inspectText } from './inspect-text.ts';
import { MEASURE_OPTIONS, oneOf, PROBE_OPTIONS, THREAD_OPTION, threadsOf, UNIT_OPTION, unitOf } from './options.ts';
import { readPlanFile, readShapeFile } from './read-input.ts';
import { readPoseFile } from './read-pose.ts';
import { type FileChoice, isOwnResult, type MapFormat, resultFiles, resultNames } from './result-files.ts';
import { settingsOf } from './settings.ts';
import { withThreads } from './with-threads.ts';
import { refuseForeign, writeFiles } from './write-files.ts';

const OPTIONS = {
  ...MEASURE_OPTIONS,
  ...PROBE_OPTIONS,
  ...UNIT_OPTION,
  ...THREAD_OPTION,
  'unit-nominal': { type: 'string', describe: 'mm or inch, for the nominal only' },
  'unit-measured': { type: 'string', describe: 'mm or inch, for the measured files only' },
  pose: { type: 'string', describe: 'Take the placement from a file instead of finding it (JSON)' },
  'accept-pose': { type: 'boolean', default: false, describe: 'Go on with an ambiguous or mirrored placement' },
  lock: { type: 'string', describe: 'Motions the best fit leaves alone: x, y, z, rx, ry, rz, such as z,rz' },
  out: { type: 'string', describe: 'Folder for the results [default: results beside the measured file]' },
  map: { describe: 'Also write the surface map as csv or ply; --no-map leaves it out of results.json' },
  strict: { type: 'boolean', default: false, describe: 'Exit 4 when anything is not proven or not measured' },
  force: { type: 'boolean', default: false, describe: 'Write over files of other origin' },
} as const;

const MAP_FORMATS: readonly MapFormat[] = ['csv', 'ply'];

/** Reads `--map csv`, `--map csv,ply` and `--no-map`. */
function fileChoice(map: unknown): FileChoice {
  const words = map === undefined || typeof map === 'boolean' ? [] : String(map).split(',');
  return { withMap: map !== false, mapFiles: [...new Set(words.map((word) => oneOf('--map', word, MAP_FORMATS)))] };
}

/** `inspect NOMINAL MEASURED...`: the whole job. */
export const inspectCommand: Command = {
  name: 'inspect',
  options: OPTIONS,
  add: (cli, run) =>
    cli.command(
      'inspect <nominal> <measured..>',
      'Place, compare, measure and judge a part; write results, table and report',
      (y) =>
        y
          .positional('nominal', { type: 'string', demandOption: true, describe: 'Section table or mesh' })
          .positional('measured', { type: 'string', array: true, demandOption: true, describe: 'Scans of the part' })
          .options(OPTIONS)
          .example('$0 inspect blade.csv scan.ply --plan plan.json', 'Results in the folder results beside scan.ply')
          .example('$0 inspect blade.csv scan.stl --unit-measured inch --json', 'Results document on stdout as well'),
      (argv) =>
        run(argv, async (job) => {
          const { talk, context } = job;
          const unit = unitOf('--unit', argv.unit);
          const unitNominal = unitOf('--unit-nominal', argv['unit-nominal']) ?? unit;
          const unitMeasured = unitOf('--unit-measured', argv['unit-measured']) ?? unit;
          const threads = threadsOf(argv.threads);
          const choice = fileChoice(argv.map);
          const settings = settingsOf({ ...argv, leadingEdge: argv['leading-edge'], tipRadius: argv['tip-radius'] });
          const folder = resolve(argv.out ?? join(dirname(argv.measured[0]), 'results'));
          refuseForeign(folder, resultNames(choice), argv.force, isOwnResult);
          refuseTwice([argv.nominal, ...argv.measured]);
          const plan = argv.plan === undefined ? undefined : await readPlanFile(argv.plan);
          const pose = argv.pose === undefined ? undefined : await readPoseFile(argv.pose);
          const nominal = await readShapeFile(argv.nominal, unitNominal, context);
          const measured: LoadedShape[] = [];
          for (const path of argv.measured) measured.push(await readShapeFile(path, unitMeasured, context));
          const { inspect } = await import('../pipeline.ts');
          const input = {
            nominal,
            measured,
            settings,
            acceptPose: argv['accept-pose'],
            ...(plan === undefined ? {} : { plan }),
            ...(pose === undefined ? {} : { pose }),
          };
          const names = measured.map(({ name }) => name);
          const { results, drawing } = await nameFile(nominal.name, names, () =>
            withThreads(threads, job, (inner) => inspect(input, inner)),
          );
          const files = resultFiles(results, drawing, plan?.plan ?? null, choice, reportDate(new Date()));
          const paths = await writeFiles(folder, files, context);
          for (const warning of results.warnings) talk.warn(warning);
          const { map: _, ...bare } = results;
          if (talk.json) talk.print(resultsToJson(choice.withMap ? results : bare));
          else talk.print(inspectText(results, paths, talk));
          return exitCodeOf(results, argv.strict);
        }),
    ),
};

/** The same file twice would count its points twice. @throws `usage/same-file` */
function refuseTwice(paths: readonly string[]): void {
  const seen = new Set<string>();
  for (const path of paths.map((each) => resolve(each))) {
    if (seen.has(path)) {
      throw new CamberwrightError('usage/same-file', 'This file is named twice.', {
        where: path,
        remedy: 'Name the nominal first, then each measured file once.',
      });
    }
    seen.add(path);
  }
}

/** Date and time to the minute, UTC, ISO 8601. */
function reportDate(date: Date): string {
  return `${date.toISOString().slice(0, 16)}Z`;
}
