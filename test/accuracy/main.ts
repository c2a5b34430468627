/**
 * Accuracy lane: many seeds, printed figures. `npm run accuracy -- [part [count]]… [--readme]`; no part means all of them
 * with their own counts. Seeds run from 1. Ends with 1 when a promise is broken. Figures are left in dist/accuracy.json;
 * with --readme those of the parts just run go into the README.
 */

import { adaptPart } from './adapt-part.ts';
import { readArguments } from './arguments.ts';
import { bootstrapPart } from './bootstrap-part.ts';
import { crossCheckPart } from './cross-check-part.ts';
import { deformedPart } from './deformed-part.ts';
import { edgesPart } from './edges-part.ts';
import type { Part } from './part.ts';
import { placementPart } from './placement-part.ts';
import { keepSummaries, writeReadme } from './readme.ts';
import { seedsPart } from './sections-part.ts';
import { shareStockPart } from './share-stock-part.ts';
import { withNominalPart } from './with-nominal-part.ts';

const PARTS: Record<string, Part> = {
  deformed: deformedPart,
  placement: placementPart,
  sections: seedsPart('sections', 1000, 'no nominal'),
  'with-nominal': withNominalPart,
  edges: edgesPart,
  bootstrap: bootstrapPart,
  'cross-check': crossCheckPart,
  'share-stock': shareStockPart,
  adapt: adaptPart,
};

const { wanted, readme } = readArguments(process.argv.slice(2), PARTS);
const broken: string[] = [];
for (const { name, count } of wanted) {
  console.log(`== ${name}: ${count} ${PARTS[name].of}`);
  const outcome = await PARTS[name].run(count);
  console.log(`${outcome.lines.join('\n')}\n`);
  for (const promise of outcome.broken) console.log(`broken: ${promise}`);
  broken.push(...outcome.broken.map((promise) => `${name}: ${promise}`));
  keepSummaries({ [name]: { count, broken: outcome.broken, ...outcome.summary } });
}
if (readme) writeReadme(wanted.map(({ name }) => name));
console.log(broken.length > 0 ? `${broken.length} promises broken` : 'every promise kept');
process.exitCode = broken.length > 0 ? 1 : 0;
