import { closeSync, openSync, readSync } from 'node:fs';
import type { Drawing } from '../drawing.ts';
import type { Plan } from '../model/plan.ts';
import type { Results } from '../model/results.ts';
import { characteristicsCsv } from '../report/characteristics-csv.ts';
import { reportHtml } from '../report/html/report-html.ts';
import { mapCsv } from '../report/map-csv.ts';
import { mapPly } from '../report/map-ply.ts';
import { resultsToJson } from '../report/results-json.ts';
import { mapSurface } from './map-surface.ts';
import type { OutputFile } from './write-files.ts';

export type MapFormat = 'csv' | 'ply';

/** What a run leaves in its folder. */
export interface FileChoice {
  /** False keeps the surface map out of results.json. */
  withMap: boolean;
  mapFiles: readonly MapFormat[];
}

/** Names of the files a run writes. */
export function resultNames(choice: FileChoice): string[] {
  return ['results.json', 'characteristics.csv', 'report.html', ...mapNames(choice)];
}

/** Names of the map's files. */
export function mapNames({ mapFiles }: FileChoice): string[] {
  return mapFiles.map((format) => `map.${format}`);
}

/** The map as files, in the order of {@link mapNames}. */
export function mapContents(results: Results, drawing: Drawing, { mapFiles }: FileChoice): OutputFile['content'][] {
  return mapFiles.map((format) => (format === 'csv' ? mapCsv(results) : mapPly(mapSurface(results, drawing))));
}

/** The results document, with its map where that is wanted. */
export function resultsText(results: Results, { withMap }: FileChoice): string {
  const { map: _, ...bare } = results;
  return resultsToJson(withMap ? results : bare);
}

/** Returns the files of a run in the order of {@link resultNames}. */
export function resultFiles(
  results: Results,
  drawing: Drawing,
  plan: Plan | null,
  choice: FileChoice,
  date: string,
): OutputFile[] {
  const contents = [
    resultsText(results, choice),
    characteristicsCsv(results),
    reportHtml(results, { plan, date }),
    ...mapContents(results, drawing, choice),
  ];
  return resultNames(choice).map((name, i) => ({ name, content: contents[i] }));
}

/** How each file this tool writes into a results folder begins or says what it is. */
const MARKS: Record<string, RegExp> = {
  'results.json': /camberwright\/results/,
  'characteristics.csv': /Characteristic no\./,
  'report.html': /<title>(Inspection report|Review of a blank)/,
  'map.csv': /Height mm/,
  'map.ply': /deviation map/,
  'short-areas.csv': /Short area no\./,
  'offset-card.txt': /WORK OFFSET/,
  'offset.json': /camberwright\/offset/,
  'adapted-sections.csv': /section,z,x,y/,
  'adapted.stl': /^units: mm/,
  'adapted.step': /adapted blade/,
  'adapted.igs': /adapted blade/,
};
const HEAD = 512;

/** True when a file in a results folder was written by this tool. */
export function isOwnResult(path: string): boolean {
  const mark = Object.entries(MARKS).find(([name]) => path.endsWith(name))?.[1];
  if (mark === undefined) return false;
  const file = openSync(path, 'r');
  try {
    const head = Buffer.alloc(HEAD);
    const length = readSync(file, head, 0, HEAD, 0);
    return mark.test(head.toString('utf8', 0, length));
  } finally {
    closeSync(file);
  }
}
