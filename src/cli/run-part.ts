import type { Plan } from '../model/plan.ts';
import type { Results } from '../model/results.ts';
import type { InspectInput, PipelineContext } from '../pipeline.ts';
import { nameFile } from '../worker/name-file.ts';
import type { Job } from './command.ts';
import { exitCodeOf } from './exit-code.ts';
import { type PartArguments, partJob, reportDate } from './part-job.ts';
import { type FileChoice, isOwnResult, resultsText } from './result-files.ts';
import type { Talk } from './talk.ts';
import { withThreads } from './with-threads.ts';
import { type OutputFile, refuseForeign, removeOld, writeFiles } from './write-files.ts';

/** What one command does on a nominal and measured files, and what it leaves. */
export interface PartSteps<Done extends { results: Results }> {
  /** Names of the files it may write. */
  names(choice: FileChoice): string[];
  work(input: InspectInput, context: PipelineContext): Promise<Done>;
  files(done: Done, plan: Plan | null, choice: FileChoice, date: string): OutputFile[];
  /** What is printed without --json; the first line is the answer. */
  text(results: Results, paths: readonly string[], talk: Talk): string;
}

/**
 * Runs a command on a nominal and measured files: refuses what can be refused first, reads, works, writes all files or
 * none, prints, and returns the exit code.
 */
export async function runPart<Done extends { results: Results }>(
  job: Job,
  files: { nominal: string; measured: readonly string[] },
  argv: PartArguments & { force: boolean; strict: boolean },
  steps: PartSteps<Done>,
): Promise<number> {
  const { talk, context } = job;
  const { folder, choice, threads, read } = partJob(files.nominal, files.measured, argv);
  refuseForeign(folder, steps.names(choice), argv.force, isOwnResult);
  const input = await read(context);
  const names = input.measured.map(({ name }) => name);
  const done = await nameFile(input.nominal.name, names, () =>
    withThreads(threads, job, (inner) => steps.work(input, inner)),
  );
  const { results } = done;
  const outputs = steps.files(done, input.plan?.plan ?? null, choice, reportDate(new Date()));
  const paths = await writeFiles(folder, outputs, context);
  removeOld(folder, steps.names(choice), outputs);
  for (const warning of results.warnings) talk.warn(warning);
  talk.print(talk.json ? resultsText(results, choice) : steps.text(results, paths, talk));
  return exitCodeOf(results, argv.strict);
}
