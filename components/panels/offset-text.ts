import type { Offset } from '../../src/model/stock-results.ts';
import { formatFixed } from '../../src/report/format-number.ts';
import { orderWords } from '../controls/words.ts';

/** Decimals of the card: 0.0001 mm and 0.0001° keep the blade's place to a micrometre. */
export const CARD_DECIMALS = 4;

export const MOVES_WORDS: Record<Offset['moves'], string> = { part: 'the part', programme: 'the programme' };

const AXES = ['X', 'Y', 'Z'] as const;

/** Lines of the card as plain text: ASCII minus, a decimal point, one value a line. */
export function offsetText(offset: Offset, part: string): string {
  const number = (value: number, signed = true): string =>
    formatFixed(value, CARD_DECIMALS, { signed }).replace('−', '-');
  const [before, after] = [offset.checkPoint.before, offset.checkPoint.after];
  return [
    `Work offset: ${part}`,
    ...AXES.map((axis, k) => `${axis}\t${number(offset.translation[k])}\tmm`),
    ...AXES.map((axis, k) => `about ${axis}\t${number(offset.rotationDeg[k])}\tdeg`),
    `These values move\t${MOVES_WORDS[offset.moves]}`,
    `Order of rotations\t${orderWords(offset.order)}, fixed axes (${offset.order})`,
    `Rotated about\t${offset.pivot.map((v) => number(v, false)).join('\t')}\tmm`,
    `Check point before\t${before.map((v) => number(v, false)).join('\t')}\tmm`,
    `Check point after\t${after.map((v) => number(v, false)).join('\t')}\tmm`,
  ].join('\n');
}
