import { dirname, join, resolve } from 'node:path';
import { CamberwrightError } from '../error.ts';
import type { RunContext } from '../model/context.ts';
import type { LoadedShape } from '../model/shape.ts';
import type { InspectInput } from '../pipeline.ts';
import { MEASURE_OPTIONS, oneOf, PROBE_OPTIONS, THREAD_OPTION, threadsOf, UNIT_OPTION, unitOf } from './options.ts';
import { readPlanFile, readShapeFile } from './read-input.ts';
import { readPoseFile } from './read-pose.ts';
import type { FileChoice, MapFormat } from './result-files.ts';
import { type SettingOptions, settingsOf } from './settings.ts';

/** Options of the jobs that hold a measured part against a nominal. */
export const PART_OPTIONS = {
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

/** What the options give. */
export interface PartArguments extends Omit<SettingOptions, 'leadingEdge' | 'tipRadius'> {
  'leading-edge'?: string | undefined;
  'tip-radius'?: string | undefined;
  unit?: string | undefined;
  'unit-nominal'?: string | undefined;
  'unit-measured'?: string | undefined;
  threads?: number | undefined;
  plan?: string | undefined;
  pose?: string | undefined;
  'accept-pose': boolean;
  out?: string | undefined;
  map?: unknown;
}

/** The files and settings of a job, read in {@link PartJob.read}; what can be refused before is refused before. */
export interface PartJob {
  folder: string;
  choice: FileChoice;
  threads: number;
  read(context: RunContext): Promise<InspectInput>;
}

const MAP_FORMATS: readonly MapFormat[] = ['csv', 'ply'];

/** Reads `--map csv`, `--map csv,ply` and `--no-map`. */
function fileChoice(map: unknown): FileChoice {
  const words = map === undefined || typeof map === 'boolean' ? [] : String(map).split(',');
  return { withMap: map !== false, mapFiles: [...new Set(words.map((word) => oneOf('--map', word, MAP_FORMATS)))] };
}

/** Returns the job of a nominal, measured files and options. @throws `usage/value`, `usage/same-file` */
export function partJob(nominal: string, measured: readonly string[], argv: PartArguments): PartJob {
  const unit = unitOf('--unit', argv.unit);
  const unitNominal = unitOf('--unit-nominal', argv['unit-nominal']) ?? unit;
  const unitMeasured = unitOf('--unit-measured', argv['unit-measured']) ?? unit;
  const settings = settingsOf({ ...argv, leadingEdge: argv['leading-edge'], tipRadius: argv['tip-radius'] });
  refuseTwice([nominal, ...measured]);
  return {
    threads: threadsOf(argv.threads),
    choice: fileChoice(argv.map),
    folder: resolve(argv.out ?? join(dirname(measured[0]), 'results')),
    read: async (context) => {
      const plan = argv.plan === undefined ? undefined : await readPlanFile(argv.plan);
      const pose = argv.pose === undefined ? undefined : await readPoseFile(argv.pose);
      const shape = await readShapeFile(nominal, unitNominal, context);
      const shapes: LoadedShape[] = [];
      for (const path of measured) shapes.push(await readShapeFile(path, unitMeasured, context));
      return {
        nominal: shape,
        measured: shapes,
        settings,
        acceptPose: argv['accept-pose'],
        ...(plan === undefined ? {} : { plan }),
        ...(pose === undefined ? {} : { pose }),
      };
    },
  };
}

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
export function reportDate(date: Date): string {
  return `${date.toISOString().slice(0, 16)}Z`;
}
