import { largestOfNormals } from '../math/normal-extreme.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { edgeArc } from './edge-arc.ts';
import { contactsOf } from './edge-inscribed.ts';
import type { PositionNoise } from './position-noise.ts';
import { type EdgeContext, lacking, type SectionContext } from './section-context.ts';

const PLACES = 400;
/** Change of the width (share) from which its effect on the length is told. */
const STEP = 0.1;
const place = contourPoint();

/** Places along an edge arc, evenly in parameter. */
interface Run {
  t: Float64Array;
  x: Float64Array;
  y: Float64Array;
}

/** A stretch between two parallel lines: its parameters and the length of its chord (mm). */
interface Flat {
  from: number;
  to: number;
  length: number;
  /** The longest from each place. */
  lengths: Float64Array;
}

/**
 * Returns the longest stretch of the edge arc that fits between two parallel lines a given width apart (FLAT), its chord
 * direction taken for that of the lines. At least three times the outline's own uncertainty is used for the width. By
 * what noise makes the longest of many like stretches too long, the length is corrected.
 * @param least width asked for (mm)
 * @param halfAngleDeg normals of the arc lie within this angle of the line of centres (degrees)
 */
export function flatLength(context: SectionContext, edge: EdgeContext, least: number, halfAngleDeg: number): Value {
  const { contour, noise } = context;
  const parameters = { width: least, halfAngleDeg };
  if (edge.end.kind === 'sharp')
    return unmeasured('not-applicable', `The ${edge.which} edge is sharp: it has no arc.`, 'mm', 'FLAT', {
      parameters,
    });
  const half = (halfAngleDeg * Math.PI) / 180;
  const arc = edgeArc(contour, edge.nose, edge.outX, edge.outY, half) ?? { from: edge.end.from, to: edge.end.to };
  const missing = lacking(context, [[arc.from, arc.to, `the ${edge.which} edge`]], 'mm', 'FLAT');
  if (missing) return { ...missing, parameters };
  const width = Math.max(least, noise ? 3 * noise.at(edge.nose) : 0);
  const run = placesOf(context, arc.from, arc.to);
  const flat = longestFlat(context, run, width);
  const evidence = { width, ...contactsOf(context, flat.from, flat.to) };
  if (!noise) return measured(flat.length, null, 'mm', 'FLAT', { parameters, evidence });
  const one = flatUncertainty(context, run, flat, width, noise);
  const many = largestOfNormals(1 + alike(run, flat.lengths, flat.length - 2 * one) / flat.length);
  return measured(flat.length - many.mean * one, many.sd * one, 'mm', 'FLAT', { parameters, evidence });
}

/**
 * The width of a stretch is that of its middle over its two ends, and the length answers to it as it does to the width
 * allowed.
 */
function flatUncertainty(context: SectionContext, run: Run, flat: Flat, width: number, noise: PositionNoise): number {
  const { from, to } = flat;
  const middle = 0.5 * (from + to);
  const ends = Math.hypot(noise.at(from), noise.at(to)) / 2;
  const height = Math.min(Math.hypot(noise.at(middle), ends), (noise.curvature(middle) * flat.length ** 2) / 8);
  const at = (share: number) => longestFlat(context, run, share * width).length;
  return ((at(1 + STEP) - at(1 - STEP)) / (2 * STEP * width)) * height;
}

function placesOf(context: SectionContext, from: number, to: number): Run {
  const t = Float64Array.from({ length: PLACES + 1 }, (_, i) => from + ((to - from) * i) / PLACES);
  const x = new Float64Array(PLACES + 1);
  const y = new Float64Array(PLACES + 1);
  for (let i = 0; i <= PLACES; i++) {
    contourAt(context.section.outline, t[i], place);
    x[i] = place.x;
    y[i] = place.y;
  }
  return { t, x, y };
}

function longestFlat(context: SectionContext, run: Run, width: number): Flat {
  const { t, x, y } = run;
  const lengths = new Float64Array(PLACES);
  let [from, to, length] = [0, 1, 0];
  let end = 1;
  for (let start = 0; start < PLACES; start++) {
    end = Math.max(end, start + 1);
    while (end < PLACES && widthOf(run, start, end + 1, x[end + 1], y[end + 1]) <= width) end++;
    const chord = Math.hypot(x[end] - x[start], y[end] - y[start]);
    lengths[start] = chord;
    if (chord > length) [from, to, length] = [start, end, chord];
  }
  let low = t[to];
  let high = t[Math.min(PLACES, to + 1)];
  for (let turn = 0; turn < 30; turn++) {
    const middle = 0.5 * (low + high);
    contourAt(context.section.outline, middle, place);
    if (widthOf(run, from, to + 1, place.x, place.y) <= width) low = middle;
    else high = middle;
  }
  contourAt(context.section.outline, low, place);
  return { from: t[from], to: low, length: Math.hypot(place.x - x[from], place.y - y[from]), lengths };
}

/** Length (mm) of the places from which a stretch of at least a given length begins. */
function alike(run: Run, lengths: Float64Array, least: number): number {
  let sum = 0;
  for (let i = 0; i < PLACES; i++)
    if (lengths[i] >= least) sum += Math.hypot(run.x[i + 1] - run.x[i], run.y[i + 1] - run.y[i]);
  return sum;
}

/** Width about the line from a place to (endX, endY) of the places from it on, short of `to`. */
function widthOf(run: Run, from: number, to: number, endX: number, endY: number): number {
  const { x, y } = run;
  const dx = endX - x[from];
  const dy = endY - y[from];
  const length = Math.hypot(dx, dy);
  let low = 0;
  let high = 0;
  for (let i = from + 1; i < to; i++) {
    const d = (dx * (y[i] - y[from]) - dy * (x[i] - x[from])) / length;
    low = Math.min(low, d);
    high = Math.max(high, d);
  }
  return high - low;
}
