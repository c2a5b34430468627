import { bladeToBsplines } from './fit/blade-to-bsplines.ts';
import type { NominalBlade } from './fit/nominal-blade.ts';
import { writeSectionTable } from './load/write-section-table.ts';
import { writeStl } from './load/write-stl.ts';
import type { SectionTable } from './model/shape.ts';
import { igesText } from './report/iges-write.ts';
import { stepText } from './report/step-write.ts';
import { bladeMesh } from './stock/adapt-surface.ts';

/** Names of the files of an adapted blade. */
export const ADAPTED_NAMES = ['adapted-sections.csv', 'adapted.stl', 'adapted.step', 'adapted.igs'] as const;

/** A file of an adapted blade. */
export interface AdaptedFile {
  name: (typeof ADAPTED_NAMES)[number];
  content: string | Uint8Array;
}

/** Name of the adapted blade in the files of the exchange. */
const NAME = 'adapted blade';

/**
 * Returns an adapted blade as files, each of which is read wherever a nominal is: its sections, a mesh, and its B-spline
 * surface by the two exchange formats.
 * @param date ISO 8601, to the second, without zone
 */
export function adaptedFiles(blade: NominalBlade, table: SectionTable, date: string): AdaptedFile[] {
  const { set } = bladeToBsplines(blade, NAME);
  const file = { name: NAME, timestamp: date };
  const contents = [
    writeSectionTable(table, { stateUnit: true }),
    writeStl(bladeMesh(blade)),
    stepText(set, file),
    igesText(set, file),
  ];
  return ADAPTED_NAMES.map((name, i) => ({ name, content: contents[i] }));
}
