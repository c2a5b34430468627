import { availableParallelism } from 'node:os';
import { CamberwrightError } from '../error.ts';
import { nearestWord } from '../judge/nearest-word.ts';
import type { LengthUnit } from '../model/shape.ts';

/** Options every command takes. */
export const COMMON_OPTIONS = {
  json: { type: 'boolean', default: false, describe: 'One JSON document on stdout, all talk on stderr' },
  quiet: { type: 'boolean', default: false, describe: 'No remarks, warnings or progress on stderr' },
  verbose: { type: 'boolean', default: false, describe: 'More detail on stderr' },
  progress: { type: 'string', default: 'auto', describe: 'auto, json (one line a report on stderr) or none' },
  color: { type: 'string', default: 'auto', describe: 'auto, always or never; NO_COLOR is honoured' },
} as const;

/** Unit of files that do not state one. */
export const UNIT_OPTION = {
  unit: { type: 'string', describe: 'mm or inch, for files that do not say' },
} as const;

/** Options of the commands that measure. */
export const MEASURE_OPTIONS = {
  plan: { type: 'string', describe: 'Plan with sections, zones, limits and decision rule (JSON)' },
  heights: { type: 'string', describe: 'Section heights in mm, such as 10,20,30' },
  setbacks: { type: 'string', describe: 'Set-backs from the edges in mm for edge thickness, such as 0.5,1' },
  'leading-edge': { type: 'string', describe: 'Way the leading edge points: +X, -X, +Y or -Y' },
} as const;

/** Options of the commands that read probed points. */
export const PROBE_OPTIONS = {
  probe: { type: 'string', describe: 'What probed points are: centres of the ball, or compensated' },
  'tip-radius': { type: 'string', describe: "Radius of the probe's ball in mm" },
} as const;

/** Option of the commands that share work among threads. */
export const THREAD_OPTION = {
  threads: { type: 'number', describe: `Threads to compute with [default: all, ${availableParallelism()} here]` },
} as const;

export const DIRECTIONS = ['+X', '-X', '+Y', '-Y'] as const;
export const PROBE_POINTS = ['centres', 'compensated'] as const;
export const LOCKS = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;
const UNITS: readonly LengthUnit[] = ['mm', 'inch'];

function refuse(label: string, found: string, wanted: string, remedy: string): never {
  throw new CamberwrightError('usage/value', `${label} wants ${wanted}, found "${found}".`, {
    where: label,
    remedy,
  });
}

/** Returns the value as one of a few known words. @throws `usage/value` with the nearest word */
export function oneOf<Word extends string>(label: string, found: string, known: readonly Word[]): Word {
  const word = known.find((candidate) => candidate.toLowerCase() === found.toLowerCase());
  if (word !== undefined) return word;
  return refuse(label, found, known.join(' or '), `Did you mean "${nearestWord(found, known)}"?`);
}

/** Returns the unit an option names, undefined when it was not given. */
export function unitOf(label: string, found: string | undefined): LengthUnit | undefined {
  return found === undefined ? undefined : oneOf(label, found, UNITS);
}

/** Returns a number above 0; undefined when it was not given. @throws `usage/value` */
export function lengthOf(label: string, found: string | undefined): number | undefined {
  if (found === undefined) return undefined;
  const value = found.trim() === '' ? Number.NaN : Number(found);
  if (Number.isFinite(value) && value > 0) return value;
  return refuse(label, found, 'a length in mm above 0', 'Write the decimal mark as a point, without a unit.');
}

/** Returns the numbers of a list such as `10,20.5`; undefined when it was not given. @throws `usage/value` */
export function numbersOf(label: string, found: string | undefined): number[] | undefined {
  return found?.split(',').map((part) => {
    const value = part.trim() === '' ? Number.NaN : Number(part);
    if (Number.isFinite(value)) return value;
    return refuse(label, found, 'numbers with commas between them', 'Write the decimal mark as a point.');
  });
}

/** Returns the words of a list such as `z,rz`. @throws `usage/value` */
export function wordsOf<Word extends string>(label: string, found: string, known: readonly Word[]): Word[] {
  return found.split(',').map((part) => oneOf(label, part.trim(), known));
}

/** Returns the number of threads: a whole number from 1 up; all processors when not given. @throws `usage/value` */
export function threadsOf(found: number | undefined): number {
  if (found === undefined) return availableParallelism();
  if (Number.isInteger(found) && found >= 1) return found;
  return refuse('--threads', String(found), 'a whole number from 1 up', 'Leave it out to use all processors.');
}
