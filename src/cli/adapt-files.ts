import type { AdaptedBlank } from '../adapt-blank.ts';
import { ADAPTED_NAMES, adaptedFiles } from '../adapted-files.ts';
import type { Plan } from '../model/plan.ts';
import type { FileChoice } from './result-files.ts';
import { stockFiles, stockNames } from './stock-files.ts';
import type { OutputFile } from './write-files.ts';

/** Names of the files an adaptation may write. */
export function adaptNames(choice: FileChoice): string[] {
  return [...stockNames(choice), ...ADAPTED_NAMES];
}

/** Returns the files of the blank's review, and those of the adapted blade unless it is refused. */
export function adaptFiles(
  { results, drawing, blade, table }: AdaptedBlank,
  plan: Plan | null,
  choice: FileChoice,
  date: string,
): OutputFile[] {
  const files = stockFiles(results, drawing, plan, choice, date);
  if (blade === null || table === null) return files;
  return [...files, ...adaptedFiles(blade, table, date.replace('Z', ':00'))];
}
