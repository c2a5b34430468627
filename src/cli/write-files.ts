import { existsSync, rmSync } from 'node:fs';
import { mkdir, open, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CamberwrightError } from '../error.ts';
import { type RunContext, throwIfCancelled } from '../model/context.ts';

/** A file to be written: name without folder, and content. */
export interface OutputFile {
  name: string;
  content: string | Uint8Array;
}

function unwritable(folder: string, cause: unknown): CamberwrightError {
  const reason = cause instanceof Error ? cause.message : String(cause);
  return new CamberwrightError('usage/unwritable', `The folder cannot be written to: ${reason}`, {
    where: folder,
    remedy: 'Name another folder with --out, or make this one writable.',
    cause,
  });
}

/**
 * Writes all files or none: first each under a temporary name, then all renamed. The folder is made when missing; a
 * cancel or a failure leaves no temporary file.
 *
 * @returns the paths written
 * @throws `usage/unwritable`; `cancelled`
 */
export async function writeFiles(folder: string, files: OutputFile[], context: RunContext): Promise<string[]> {
  const pairs = files.map(({ name, content }) => {
    const path = join(folder, name);
    return { path, content, temporary: `${path}.${process.pid}.part` };
  });
  const written: string[] = [];
  const clear = () => {
    for (const path of written) rmSync(path, { force: true });
  };
  process.once('exit', clear);
  try {
    throwIfCancelled(context);
    await mkdir(folder, { recursive: true });
    for (const { temporary, content } of pairs) {
      await (await open(temporary, 'w')).close();
      written.push(temporary);
      await writeFile(temporary, content);
      throwIfCancelled(context);
    }
    for (const { temporary, path } of pairs) await rename(temporary, path);
  } catch (error) {
    clear();
    throw error instanceof CamberwrightError ? error : unwritable(folder, error);
  } finally {
    process.off('exit', clear);
  }
  return pairs.map(({ path }) => path);
}

/**
 * Refuses to write over files that `mine` does not know as this tool's own.
 *
 * @param names file names the command would write
 * @throws `usage/exists`
 */
export function refuseForeign(folder: string, names: string[], force: boolean, mine: (path: string) => boolean): void {
  if (force) return;
  for (const name of names) {
    const path = join(folder, name);
    if (!existsSync(path) || mine(path)) continue;
    throw new CamberwrightError('usage/exists', 'This file exists and was not written by this tool.', {
      where: path,
      remedy: 'Name another folder, or write over it with --force.',
    });
  }
}

/** Removes what an earlier run left under names this run could have written and did not, so that nothing old is taken for new. */
export function removeOld(folder: string, names: readonly string[], written: readonly OutputFile[]): void {
  const kept = new Set(written.map(({ name }) => name));
  for (const name of names) if (!kept.has(name)) rmSync(join(folder, name), { force: true });
}
