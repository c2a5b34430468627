import { SIDE_WORDS } from '../judge/side-words.ts';
import type { Stock } from '../model/stock-results.ts';
import { formatFixed } from './format-number.ts';

/** A placed stock with its place in words: "+0.312 mm at height 84.0 mm, suction side". */
export function stockValueText({ value, place }: Stock['least']): string {
  if (value === null || place === null) return 'not measured';
  return `${formatFixed(value, 3, { signed: true })} mm at height ${place.height.toFixed(1)} mm, ${SIDE_WORDS[place.side]}`;
}
