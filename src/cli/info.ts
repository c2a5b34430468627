import { CamberwrightError, type Warning } from '../error.ts';
import type { Command, Job } from './command.ts';
import { UNIT_OPTION, unitOf } from './options.ts';
import { readShapeFile } from './read-input.ts';
import { counted, shapeLines, shapeRecord } from './shape-text.ts';

/** What is kept of a file once it was read: no geometry. */
type Found =
  | { path: string; lines: string[]; record: Record<string, unknown>; warnings: Warning[] }
  | { path: string; error: CamberwrightError };

async function read(path: string, unit: 'mm' | 'inch' | undefined, job: Job): Promise<Found> {
  try {
    const shape = await readShapeFile(path, unit, job.context);
    return { path, lines: shapeLines(path, shape), record: shapeRecord(shape), warnings: shape.warnings };
  } catch (error) {
    if (error instanceof CamberwrightError && error.exitCode === 3) return { path, error };
    throw error;
  }
}

function answer(found: readonly Found[]): string {
  const bad = found.filter((entry) => 'error' in entry).length;
  const good = found.length - bad;
  if (bad === 0) return `${counted(good, 'file')} read.`;
  return `${good} of ${counted(found.length, 'file')} read; ${bad} cannot be read.`;
}

/** `info FILE...`: what each file is, without measuring. */
export const infoCommand: Command = {
  name: 'info',
  options: UNIT_OPTION,
  add: (cli, run) =>
    cli.command(
      'info <files..>',
      'Say what files hold: format, unit, counts, box, sections',
      (y) =>
        y
          .positional('files', { type: 'string', array: true, demandOption: true, describe: 'Shape files' })
          .options(UNIT_OPTION)
          .example('$0 info blade.stl scan.ply', 'Both files, one after the other'),
      (argv) =>
        run(argv, async (job) => {
          const { talk } = job;
          const unit = unitOf('--unit', argv.unit);
          const found: Found[] = [];
          for (const path of argv.files) found.push(await read(path, unit, job));
          if (talk.json) {
            const files = found.map((entry) =>
              'error' in entry
                ? { path: entry.path, error: entry.error.toRecord() }
                : { path: entry.path, ...entry.record },
            );
            talk.print(JSON.stringify({ answer: answer(found), files }, null, 1));
          } else {
            talk.print(answer(found));
            for (const entry of found) if ('lines' in entry) talk.print(`\n${entry.lines.join('\n')}`);
          }
          for (const entry of found) {
            if ('error' in entry) talk.fail(entry.error);
            else for (const warning of entry.warnings) talk.warn(warning);
          }
          return found.some((entry) => 'error' in entry) ? 3 : 0;
        }),
    ),
};
