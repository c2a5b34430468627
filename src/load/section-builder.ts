import type { SectionPoints, SectionTable } from '../model/shape.ts';
import { normalise } from './cloud-builder.ts';
import { type FormatInput, loadError, warn } from './format.ts';
import { passStarts } from './scan-passes.ts';
import { findCrossing } from './section-crossing.ts';
import { type DoubleStore, doubleStore, exactDoubles, reserve } from './stores.ts';

const LEAST_POINTS = 8;
/** Spread of the heights of one section, as a share of its size, up to which it counts as flat. */
const FLAT_SHARE = 1e-3;

/** One section as its rows come in. */
export interface RawSection {
  id: string;
  line: number;
  points: DoubleStore;
  lowest: number;
  highest: number;
  /** Sum of the heights' offsets from the first. */
  offsets: number;
  first: number;
  rows: number;
  duplicates: number;
  /** Directions given with the points kept, x0, y0, z0, … */
  vectors: DoubleStore;
  /** Numbers of the points at which the file comes back to this section after others, or passes over it anew. */
  breaks: number[];
  /** Name of the pass the last row belongs to, and whether names tell the passes apart. */
  pass: string;
  passesNamed: boolean;
}

export function rawSection(id: string, height: number, line: number): RawSection {
  const points = doubleStore(0);
  return {
    id,
    line,
    points,
    lowest: height,
    highest: height,
    offsets: 0,
    first: height,
    rows: 0,
    duplicates: 0,
    vectors: doubleStore(0),
    breaks: [],
    pass: '',
    passesNamed: false,
  };
}

/** Marks that the rows of a section begin anew, in the pass of that name ('' where the file names none). */
export function beginAnew(section: RawSection, pass = ''): void {
  const isNamed = pass !== section.pass;
  section.pass = pass;
  if (section.points.length === 0 || (pass !== '' && !isNamed)) return;
  section.breaks.push(section.points.length / 2);
  section.passesNamed ||= isNamed;
}

/** Adds a row; a point equal to the one before is counted and left out. Returns whether it was kept. */
export function addRow(section: RawSection, x: number, y: number, height: number, input: FormatInput): boolean {
  section.rows++;
  section.lowest = Math.min(section.lowest, height);
  section.highest = Math.max(section.highest, height);
  section.offsets += height - section.first;
  const { points } = section;
  const begins = points.length === 0 || section.breaks.at(-1) === points.length / 2;
  if (!begins && points.data[points.length - 2] === x && points.data[points.length - 1] === y) {
    section.duplicates++;
    return false;
  }
  reserve(points, 2, input);
  points.data[points.length++] = x;
  points.data[points.length++] = y;
  return true;
}

function distinctPoints(points: Float64Array): number {
  const seen = new Set<string>();
  for (let i = 0; i < points.length && seen.size < LEAST_POINTS; i += 2) seen.add(`${points[i]} ${points[i + 1]}`);
  return seen.size;
}

function largestSide(points: Float64Array): number {
  let [x0, y0, x1, y1] = [points[0], points[1], points[0], points[1]];
  for (let i = 2; i < points.length; i += 2) {
    x0 = Math.min(x0, points[i]);
    x1 = Math.max(x1, points[i]);
    y0 = Math.min(y0, points[i + 1]);
    y1 = Math.max(y1, points[i + 1]);
  }
  return Math.max(x1 - x0, y1 - y0);
}

/** Returns the section's height: its rows' own, or their mean when they spread a little. */
function heightOf(input: FormatInput, section: RawSection, points: Float64Array): number {
  const spread = section.highest - section.lowest;
  if (spread === 0) return section.first;
  const where = `section ${section.id}`;
  const message = `The heights of section ${section.id} run from ${section.lowest} to ${section.highest}.`;
  if (spread > FLAT_SHARE * largestSide(points)) {
    const remedy = 'Give every point of a section the same height, or load the points as x, y, z.';
    throw loadError(input, 'load/section-not-flat', message, where, remedy);
  }
  warn(input, 'load/section-height-spread', `${message} Their mean is used.`, where, 'No action is needed.');
  return section.first + section.offsets / section.rows;
}

function finishSection(input: FormatInput, section: RawSection): SectionPoints {
  const whole = exactDoubles(section.points);
  const starts = section.passesNamed ? [0, ...section.breaks] : passStarts(whole, section.breaks);
  const [points, ...again] = starts.map((start, k) => whole.slice(2 * start, 2 * (starts[k + 1] ?? whole.length / 2)));
  const where = `section ${section.id} (line ${section.line})`;
  const distinct = distinctPoints(points);
  if (distinct < LEAST_POINTS) {
    const message = `Section ${section.id} has ${distinct} distinct points; at least ${LEAST_POINTS} are needed.`;
    throw loadError(input, 'load/section-too-few-points', message, where, 'Add points to the section or take it out.');
  }
  const { found, local } = findCrossing(points);
  if (found !== null) {
    const [i, j] = found;
    const message = `The outline of section ${section.id} crosses itself between points ${i + 1}–${i + 2} and ${j + 1}–${j + 2} of the section.`;
    const remedy = 'Put the points in order along the outline and take out loops.';
    throw loadError(input, 'load/section-crosses-itself', message, where, remedy);
  }
  if (local > 0) {
    const message = `Noise in section ${section.id} makes neighbouring steps cross at ${local} places.`;
    warn(input, 'load/section-local-crossings', message, where, 'No action is needed for a scan.');
  }
  const vectors = unitVectors(section, points.length / 2);
  return {
    id: section.id,
    height: heightOf(input, section, points),
    points,
    ...(vectors === null ? {} : { vectors }),
    ...(again.length === 0 ? {} : { again }),
  };
}

/** The first pass's vectors at length 1; null when there are none or one has no direction. */
function unitVectors(section: RawSection, count: number): Float64Array | null {
  if (section.vectors.length < 3 * count) return null;
  const vectors = section.vectors.data.slice(0, 3 * count);
  return normalise(vectors) ? vectors : null;
}

/**
 * Returns the sections in order of rising height and adds the warning for equal points in a row.
 *
 * @throws `load/no-points`, `load/section-too-few-points`, `load/section-crosses-itself`, `load/section-not-flat`,
 *   `load/sections-one-height`
 */
export function finishSections(input: FormatInput, raw: RawSection[]): SectionTable {
  if (raw.length === 0) {
    throw loadError(input, 'load/no-points', 'The table holds no rows.', null, 'Choose a file with points in it.');
  }
  const sections = raw.map((section) => finishSection(input, section)).sort((a, b) => a.height - b.height);
  for (let i = 1; i < sections.length; i++) {
    const [a, b] = [sections[i - 1], sections[i]];
    if (a.height !== b.height) continue;
    const message = `Sections ${a.id} and ${b.id} both lie at height ${a.height}.`;
    const remedy = 'Give every section its own height, or join the two under one name.';
    throw loadError(input, 'load/sections-one-height', message, `section ${b.id}`, remedy);
  }
  const duplicates = raw.reduce((sum, section) => sum + section.duplicates, 0);
  if (duplicates > 0) {
    const message = `${duplicates} points equal the one before them and are left out.`;
    warn(input, 'load/duplicate-points', message, null, 'No action is needed.');
  }
  return { kind: 'sections', sections };
}
