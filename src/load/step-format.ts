import { cadTextSink } from './cad-text.ts';
import type { Format } from './format.ts';
import { looksLikeText } from './sniff.ts';
import { stepContent } from './step-bspline.ts';
import { parseStep, skipBlank } from './step-parse.ts';

export const step: Format = {
  id: 'step',
  words: 'B-spline surface as STEP (.step, .stp)',
  sniff(head) {
    if (!looksLikeText(head)) return false;
    const text = new TextDecoder().decode(head);
    return /^ISO-10303-21\s*;/.test(text.slice(skipBlank(text, 0)));
  },
  parse: (input) => cadTextSink(input, (text) => stepContent(parseStep(input, text))),
};
