import { poseToMatrix } from '../math/rigid.ts';
import type { OffsetFile } from '../model/offset-results.ts';
import type { Offset } from '../model/stock-results.ts';
import { nearQuarterTurn, offsetMotion } from '../place/work-offset.ts';
import { formatFixed } from './format-number.ts';

/** Decimals of a card: 0.0001 mm and 0.0001° keep a blade's place to a micrometre. */
export const CARD_DECIMALS = 4;

const AXES = ['X', 'Y', 'Z'] as const;

const MOVES: Record<Offset['moves'], string> = {
  part: 'the part (not the programme)',
  programme: 'the programme (not the part)',
};

const ORDERS: Record<string, string> = {
  RzRyRx: 'about X first, then Y, then Z; the axes stay fixed (R = Rz Ry Rx)',
  RxRyRz: 'about Z first, then Y, then X; the axes stay fixed (R = Rx Ry Rz)',
};

const CAUTION =
  'Controls differ in what an offset moves, in the sense of rotations and in their order. ' +
  'Prove axis signs and order on the machine with the check point, then with a dry run, before cutting.';

/**
 * Returns the text of a card with the values for the control, one value a line between label and unit: values and
 * points to 0.0001 mm and 0.0001°, what moves, the order of rotations, the pivot and the check point.
 * @param mark decimal mark
 * @param about lines under the head: part, placement, date
 */
export function offsetCard(offset: Offset, mark: '.' | ',' = '.', about: readonly string[] = []): string {
  const number = (value: number, signed = false): string =>
    formatFixed(value, CARD_DECIMALS, { minus: '-', signed }).replace('.', mark);
  const point = (p: readonly number[]): string => AXES.map((axis, k) => `${axis} ${number(p[k])}`).join('   ');
  const { translation, rotationDeg, checkPoint, pivot } = offset;
  return [
    'WORK OFFSET   write into the control',
    ...about,
    ...AXES.map((axis, k) => `${axis.padEnd(8)} ${number(translation[k], true).padStart(12)} mm`),
    ...AXES.map((axis, k) => `${`about ${axis}`.padEnd(8)} ${number(rotationDeg[k], true).padStart(12)} deg`),
    `These values move: ${MOVES[offset.moves]}`,
    `Order of rotations: ${ORDERS[offset.order] ?? offset.order}`,
    'The rotations are about the pivot; the translation comes after them.',
    `Pivot: ${point(pivot)} mm`,
    ...(nearQuarterTurn(offset)
      ? [
          'The turn about Y is near 90 deg: X and Z then turn about nearly the same axis. Other angles can make the same rotation.',
        ]
      : []),
    'CHECK POINT   after setting, touch here and expect',
    `before: ${point(checkPoint.before)} mm`,
    `after:  ${point(checkPoint.after)} mm`,
    CAUTION,
    '',
  ].join('\n');
}

/** Returns an offset as a record for a post-processor: numbers in full, and the same motion as a matrix. */
export function offsetJson(offset: Offset): OffsetFile {
  return {
    schema: 'camberwright/offset',
    schemaVersion: 1,
    unit: 'mm',
    ...offset,
    matrix: poseToMatrix(offsetMotion(offset)),
  };
}
