import { CamberwrightError } from '../../src/error.ts';
import type { Failure } from '../../src/worker/messages.ts';

/** Any thrown value as the record the pages show. */
export function failureFrom(error: unknown): Failure {
  if (error instanceof CamberwrightError) return error.toRecord();
  const text = error instanceof Error ? error.message : String(error);
  return { code: 'fault/unexpected', message: 'That did not work.', where: text, remedy: 'Try again.' };
}
