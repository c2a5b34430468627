import { CamberwrightError } from '../error.ts';
import type { SectionTable } from '../model/shape.ts';
import type { CloudBuilder } from './cloud-builder.ts';
import { type FormatInput, warn } from './format.ts';
import { addRow, finishSections, type RawSection, rawSection } from './section-builder.ts';

const LEAST_POINTS = 8;

/** Returns where each run of equal z begins; null unless there are 2 or more, 8 points or more each, no z twice. */
function runs(positions: Float64Array, count: number): number[] | null {
  const starts: number[] = [];
  const seen = new Set<number>();
  for (let i = 0; i < count; i++) {
    const z = positions[3 * i + 2];
    if (i > 0 && z === positions[3 * i - 1]) continue;
    if (seen.has(z) || (starts.length > 0 && i - starts[starts.length - 1] < LEAST_POINTS)) return null;
    seen.add(z);
    starts.push(i);
  }
  return starts.length > 1 && count - starts[starts.length - 1] >= LEAST_POINTS ? starts : null;
}

/**
 * Returns the points as sections s1, s2, … when they stand in levels of z, one run of 8 points or more each, and every
 * level is an outline; else null, with a warning when only the outlines fail.
 */
export function sectionsOfLevels(input: FormatInput, builder: CloudBuilder): SectionTable | null {
  const { data, length } = builder.positions;
  const starts = builder.dropped === 0 ? runs(data, length / 3) : null;
  if (starts === null) return null;
  const raw: RawSection[] = starts.map((start, k) => {
    const z = data[3 * start + 2];
    const section = rawSection(`s${k + 1}`, z, 0);
    const stop = starts[k + 1] ?? length / 3;
    for (let i = start; i < stop; i++) addRow(section, data[3 * i], data[3 * i + 1], z, input);
    return section;
  });
  // Named in order of rising height.
  raw.sort((a, b) => a.first - b.first);
  for (const [k, section] of raw.entries()) section.id = `s${k + 1}`;
  const before = input.warnings.length;
  try {
    return finishSections(input, raw);
  } catch (error) {
    if (!(error instanceof CamberwrightError) || error.code === 'load/too-large') throw error;
    input.warnings.length = before;
    const message = `The points stand in ${raw.length} levels of z but are read as a cloud. ${error.message}`;
    warn(input, 'load/levels-not-outlines', message, null, 'Name the columns section, z, x, y if they are sections.');
    return null;
  }
}
