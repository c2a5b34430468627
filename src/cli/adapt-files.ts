import type { AdaptedBlank } from '../adapt-blank.ts';
import { bladeToBsplines } from '../fit/blade-to-bsplines.ts';
import { writeSectionTable } from '../load/write-section-table.ts';
import { writeStl } from '../load/write-stl.ts';
import type { Plan } from '../model/plan.ts';
import { igesText } from '../report/iges-write.ts';
import { stepText } from '../report/step-write.ts';
import { bladeMesh } from '../stock/adapt-surface.ts';
import type { FileChoice } from './result-files.ts';
import { stockFiles, stockNames } from './stock-files.ts';
import type { OutputFile } from './write-files.ts';

const ADAPTED = ['adapted-sections.csv', 'adapted.stl', 'adapted.step', 'adapted.igs'] as const;
/** Name of the adapted blade in the files of the exchange. */
const NAME = 'adapted blade';

/** Names of the files an adaptation may write. */
export function adaptNames(choice: FileChoice): string[] {
  return [...stockNames(choice), ...ADAPTED];
}

/** Returns the files of the blank's review, and those of the adapted blade unless it is refused. */
export function adaptFiles(
  { results, drawing, blade, table }: AdaptedBlank,
  plan: Plan | null,
  choice: FileChoice,
  date: string,
): OutputFile[] {
  const files = stockFiles(results, drawing, plan, choice, date);
  if (blade === null || table === null) return files;
  const { set } = bladeToBsplines(blade, NAME);
  const file = { name: NAME, timestamp: date.replace('Z', ':00') };
  const contents = [
    writeSectionTable(table, { stateUnit: true }),
    writeStl(bladeMesh(blade)),
    stepText(set, file),
    igesText(set, file),
  ];
  return [...files, ...ADAPTED.map((name, i) => ({ name, content: contents[i] }))];
}
