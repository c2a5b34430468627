import { findCrossing } from '../load/section-crossing.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateCell, intervalOf, PLACE_SIZE, placeNormal } from '../spatial/surface-evaluate.ts';
import { crossesItself, cutHeights } from './cut-heights.ts';
import type { SectionCut } from './section-cut.ts';
import type { SurfaceSection } from './surface-section.ts';

/** Newton steps stop this close (mm) to the cut. */
const SETTLED = 1e-10;
const MOST_STEPS = 30;
/** Chords a column interval is divided into for its length. */
const CHORDS = 4;

/**
 * Returns the section of a surface by a cut, in the cut's developed coordinates. A point at a deviation from the surface
 * is moved along its line of equal `u` until foot plus offset lies on the cut (Newton), so that the offset in the
 * section is the deviation over the cosine between normal and cut.
 * @throws plan/cut-outside-span, plan/cut-crosses-itself
 */
export function cutSection(surface: NominalSurface, cut: SectionCut): SurfaceSection {
  const { columns, heights } = surface;
  const passes = cutHeights(surface, cut);
  const top = heights[heights.length - 1];
  const longest = (top - heights[0]) / 4;
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  const point = new Float64Array(3);
  const gradient = new Float64Array(3);
  /** Finds the foot at `u` whose offset point lies on the cut; leaves it in `place` and the offset point in `point`. */
  const settle = (u: number, deviation: number): void => {
    const at = clamp(u, columns[0], columns[columns.length - 1]);
    const column = intervalOf(columns, at);
    let z = between(columns, passes, at);
    for (let step = 0; step < MOST_STEPS; step++) {
      evaluateCell(surface, column, intervalOf(heights, clamp(z, heights[0], top)), at, z, place);
      placeNormal(surface, place, normal);
      for (let k = 0; k < 3; k++) point[k] = place[k] + deviation * normal[k];
      const off = cut.level(point, gradient);
      if (Math.abs(off) < SETTLED) break;
      const slope = gradient[0] * place[6] + gradient[1] * place[7] + gradient[2] * place[8];
      z -= clamp(off / slope, -longest, longest);
    }
  };
  const carry = (u: number, deviation: number, out: Float64Array): void => {
    settle(u, deviation);
    cut.develop(point, out);
  };
  const lengths = lengthsAlong(columns, carry);
  if (findCrossing(lengths.points).found !== null) throw crossesItself(cut);
  return {
    surface,
    cut,
    height: cut.height,
    from: passes.reduce((a, b) => Math.min(a, b)),
    to: passes.reduce((a, b) => Math.max(a, b)),
    heightAt: (u) => {
      settle(u, 0);
      return place[2];
    },
    carry,
    standIn: carry,
    alongAt: (u) => between(columns, lengths.along, u),
  };
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}

/** Values tabulated at the columns, linear between them. */
function between(columns: Float64Array, values: Float64Array, u: number): number {
  const at = clamp(u, columns[0], columns[columns.length - 1]);
  const c = intervalOf(columns, at);
  const share = (at - columns[c]) / (columns[c + 1] - columns[c]);
  return values[c] + share * (values[c + 1] - values[c]);
}

/** The outline at every column, closed, and its length there from the leading edge (u = 0), by chords. */
function lengthsAlong(
  columns: Float64Array,
  carry: SurfaceSection['carry'],
): { points: Float64Array; along: Float64Array } {
  const points = new Float64Array(2 * columns.length);
  const along = new Float64Array(columns.length);
  const before = new Float64Array(2);
  const out = new Float64Array(2);
  carry(columns[0], 0, before);
  points.set(before);
  for (let c = 1; c < columns.length; c++) {
    along[c] = along[c - 1];
    for (let k = 1; k <= CHORDS && columns[c] > columns[c - 1]; k++) {
      carry(columns[c - 1] + ((columns[c] - columns[c - 1]) * k) / CHORDS, 0, out);
      along[c] += Math.hypot(out[0] - before[0], out[1] - before[1]);
      before.set(out);
    }
    points.set(before, 2 * c);
  }
  const leading = between(columns, along, 0);
  return { points, along: along.map((length) => length - leading) };
}
