import { CamberwrightError } from '../error.ts';

/** Runs work on files; an error that names no place gets the file it speaks of: placement the measured, shape the nominal. */
export async function nameFile<T>(nominal: string, measured: readonly string[], work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof CamberwrightError) || error.where !== null) throw error;
    const family = error.code.split('/')[0];
    const where = family === 'place' || family === 'relate' ? measured.join(', ') : family === 'shape' ? nominal : null;
    if (where === null) throw error;
    throw new CamberwrightError(error.code, error.message, { where, remedy: error.remedy, cause: error });
  }
}
