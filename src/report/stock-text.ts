import { SIDE_WORDS } from '../judge/side-words.ts';
import type { Verdict } from '../model/results.ts';
import type { Stock } from '../model/stock-results.ts';
import { formatFixed } from './format-number.ts';

/** Whether a zone may stay as forged; a zone that may not is no failure of the part. */
export const AS_FORGED_WORDS: Record<Verdict, string> = {
  pass: 'May stay',
  fail: 'Is to be cut',
  'not-proven': 'Not proven',
  'not-measured': 'Not measured',
  'no-limit': 'No limit',
  'not-applicable': 'Not applicable',
};

/** A placed stock with its place in words: "+0.312 mm at height 84.0 mm, suction side". */
export function stockValueText({ value, place }: Stock['least']): string {
  if (value === null || place === null) return 'not measured';
  return `${formatFixed(value, 3, { signed: true })} mm at height ${place.height.toFixed(1)} mm, ${SIDE_WORDS[place.side]}`;
}
