import { CamberwrightError } from '../error.ts';
import { determinant3, multiply3, nearestRotation, poseFromMatrix, transpose3 } from '../math/rigid.ts';
import type { Pose } from '../model/pose.ts';
import { fileSource, readBytes } from './file-source.ts';

/** Largest departure from a rigid motion that rounding in a text file explains. */
const RIGID = 1e-6;

/**
 * Returns the pose measured → nominal of a file: `{"matrix": [16 numbers, row-major]}`, or a results document, whose
 * alignment is taken.
 *
 * @throws `usage/pose` when there is no matrix, or it is no proper rigid motion; `load/unreadable`
 */
export async function readPoseFile(path: string): Promise<Pose> {
  const source = await fileSource(path);
  const refuse = (message: string): never => {
    const remedy = 'Give {"matrix": [16 numbers, row by row]} in mm, measured to nominal, or a results.json.';
    throw new CamberwrightError('usage/pose', message, { where: source.name, remedy });
  };
  const matrix = matrixOf(new TextDecoder().decode(await readBytes(source)));
  if (matrix === null) return refuse('The file holds no matrix of 16 numbers.');
  if (Math.max(...[0, 0, 0, 1].map((want, i) => Math.abs(matrix[12 + i] - want))) > RIGID)
    return refuse('The last row of the matrix is not 0 0 0 1.');
  const pose = poseFromMatrix(matrix);
  const product = multiply3(pose.rotation, transpose3(pose.rotation));
  const off = Math.max(...product.map((value, i) => Math.abs(value - (i % 4 === 0 ? 1 : 0))));
  if (off > RIGID) return refuse('The matrix scales or shears; only turning and moving is possible.');
  if (determinant3(pose.rotation) < 0) return refuse('The matrix mirrors the part.');
  return { rotation: nearestRotation(pose.rotation), translation: pose.translation };
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
