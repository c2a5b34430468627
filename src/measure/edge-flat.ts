import { largestOfNormals } from '../math/normal-extreme.ts';
import { measured, unmeasured, type Value } from '../model/value.ts';
import { contourAt, contourPoint } from './contour.ts';
import { edgeArc } from './edge-arc.ts';
import { contactsOf } from './edge-inscribed.ts';
import { type OutlineTerm, termsUncertainty } from './outline-terms.ts';
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
  const { one, of } = flatNoise(context, run, flat, width, noise);
  return measured(flat.length - of.mean * one, of.sd * one, 'mm', 'FLAT', { parameters, evidence });
}

/**
 * Standard uncertainty of the length of one stretch, and mean and standard deviation, in units of it, of the largest of all
 * that are as long within noise. The width of a stretch is that of its middle over its two ends, and the length answers to
 * it as it does to the width allowed. What the widths of like stretches have in common makes none of them stand out: of n
 * that go together by r the largest is √(1 − r) that of n independent ones, on top of the common part.
 */
function flatNoise(
  context: SectionContext,
  run: Run,
  flat: Flat,
  width: number,
  noise: PositionNoise,
): { one: number; of: { mean: number; sd: number } } {
  const at = (share: number) => longestFlat(context, run, share * width).length;
  const slope = (at(1 + STEP) - at(1 - STEP)) / (2 * STEP * width);
  const { outline } = context.section;
  const doubt = (terms: OutlineTerm[]): number => termsUncertainty(noise, outline, terms) ?? 0;
  const one = slope * doubt(heightTerms(flat.from, flat.to, 1));
  const starts = Array.from(flat.lengths.keys()).filter((i) => flat.lengths[i] >= flat.length - 2 * one);
  const pieces = starts.reduce((sum, i) => sum + Math.hypot(run.x[i + 1] - run.x[i], run.y[i + 1] - run.y[i]), 0);
  const count = 1 + pieces / flat.length;
  const independent = largestOfNormals(count);
  const some = Math.round(count);
  if (some < 2) return { one, of: independent };
  const like = Array.from({ length: some }, (_, k) => {
    const from = run.t[starts[Math.round((k * (starts.length - 1)) / (some - 1))]];
    return heightTerms(from, from + flat.to - flat.from, 1 / some);
  });
  const single = like.reduce((sum, terms) => sum + (some * doubt(terms)) ** 2, 0);
  const common = Math.min(1, Math.max(0, ((some * some * doubt(like.flat()) ** 2) / single - 1) / (some - 1)));
  return {
    one,
    of: {
      mean: independent.mean * Math.sqrt(1 - common),
      sd: Math.sqrt(common + (1 - common) * independent.sd ** 2),
    },
  };
}

/** Height of the middle of a stretch over its two ends. */
function heightTerms(from: number, to: number, gain: number): OutlineTerm[] {
  return [
    { t: 0.5 * (from + to), gain },
    { t: from, gain: -0.5 * gain },
    { t: to, gain: -0.5 * gain },
  ];
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
    lengths[start] = Math.hypot(x[end] - x[start], y[end] - y[start]) + beyond(run, start, end, width);
    if (lengths[start] > length) [from, to, length] = [start, end, lengths[start]];
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

/** Part of the step past the end of a stretch that it still has room for (mm): the width grows with the square of the length. */
function beyond(run: Run, start: number, end: number, width: number): number {
  if (end === PLACES) return 0;
  const { x, y } = run;
  const [now, next] = [end, end + 1].map((to) => Math.sqrt(widthOf(run, start, to, x[to], y[to])));
  const part = next > now ? Math.max(0, (Math.sqrt(width) - now) / (next - now)) : 0;
  return Math.min(1, part) * Math.hypot(x[end + 1] - x[end], y[end + 1] - y[end]);
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
