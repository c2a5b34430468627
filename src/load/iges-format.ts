import { cadTextSink } from './cad-text.ts';
import type { Format } from './format.ts';
import { igesContent } from './iges-bspline.ts';
import { parseIges } from './iges-parse.ts';
import { looksLikeText } from './sniff.ts';

/** Column of a record's letter and number. */
const LETTER = 72;

export const iges: Format = {
  id: 'iges',
  words: 'B-spline surface as IGES (.igs, .iges)',
  sniff(head) {
    const first = new TextDecoder().decode(head.subarray(0, LETTER + 10));
    return looksLikeText(head) && /^[^\n\r]{72}S[ 0]*1\s*[\n\r]/.test(first);
  },
  parse: (input) => cadTextSink(input, (text) => igesContent(parseIges(input, text))),
};
