import { CamberwrightError } from '../error.ts';
import { givenPlacement } from '../place/to-alignment.ts';
import { fileSource, readBytes } from './file-source.ts';

/**
 * Returns the pose measured → nominal of a file as a row-major 4 × 4 matrix: `{"matrix": [16 numbers]}`, or a results
 * document, whose alignment is taken.
 *
 * @throws `usage/pose` when there is no matrix, or it is no rigid motion; `load/unreadable`
 */
export async function readPoseFile(path: string): Promise<number[]> {
  const source = await fileSource(path);
  const matrix = matrixOf(new TextDecoder().decode(await readBytes(source)));
  if (matrix === null) {
    throw new CamberwrightError('usage/pose', 'The file holds no matrix of 16 numbers.', {
      where: source.name,
      remedy: 'Give {"matrix": [16 numbers, row by row]} in mm, measured to nominal, or a results.json.',
    });
  }
  try {
    givenPlacement(matrix);
  } catch (error) {
    if (!(error instanceof CamberwrightError)) throw error;
    throw new CamberwrightError(error.code, error.message, { where: source.name, remedy: error.remedy });
  }
  return matrix;
}

function matrixOf(text: string): number[] | null {
  let record: unknown;
  try {
    record = JSON.parse(text);
  } catch {
    return null;
  }
  const { matrix, alignment } = (record ?? {}) as { matrix?: unknown; alignment?: { matrix?: unknown } };
  const found = matrix ?? alignment?.matrix;
  if (!Array.isArray(found) || found.length !== 16) return null;
  return found.every((value) => Number.isFinite(value)) ? (found as number[]) : null;
}
