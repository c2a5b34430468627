import type { Outline } from '../model/outline.ts';
import { evaluateOutline, outlineKnotSpans, outlineLength } from './outline-evaluate.ts';

/** Cumulative arc length of one turn of an outline from a start parameter, for the way back from length to parameter. */
export interface ArcTable {
  outline: Outline;
  /** Rising parameters from the start over one period. */
  t: Float64Array;
  /** Length from the start at `t` (mm). */
  length: Float64Array;
  perimeter: number;
}

const PARTS_A_SPAN = 2;

/** Returns the arc-length table of an outline, starting at parameter `start`. */
export function arcTable(outline: Outline, start: number): ArcTable {
  const period = outline.period;
  const marks: number[] = [start, start + period];
  for (const knot of outlineKnotSpans(outline)) {
    const t = start + ((((knot - start) % period) + period) % period);
    if (t - start > 1e-12 * period && start + period - t > 1e-12 * period) marks.push(t);
  }
  marks.sort((a, b) => a - b);
  const count = (marks.length - 1) * PARTS_A_SPAN + 1;
  const t = new Float64Array(count);
  const length = new Float64Array(count);
  t[0] = start;
  for (let i = 1; i < count; i++) {
    const mark = Math.floor(i / PARTS_A_SPAN);
    const part = (i % PARTS_A_SPAN) / PARTS_A_SPAN;
    t[i] = part === 0 ? marks[mark] : marks[mark] + part * (marks[mark + 1] - marks[mark]);
    length[i] = length[i - 1] + outlineLength(outline, t[i - 1], t[i]);
  }
  return { outline, t, length, perimeter: length[count - 1] };
}

/** Returns the parameter at a length (mm) from the table's start; lengths outside one turn are clamped. */
export function parameterAtLength(table: ArcTable, length: number): number {
  const { t, outline } = table;
  const wanted = Math.min(Math.max(length, 0), table.perimeter);
  let low = 0;
  let high = t.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (table.length[middle] <= wanted) low = middle;
    else high = middle;
  }
  const whole = table.length[high] - table.length[low];
  let at = whole > 0 ? t[low] + ((wanted - table.length[low]) / whole) * (t[high] - t[low]) : t[low];
  const out = new Float64Array(8);
  for (let step = 0; step < 20; step++) {
    const error = table.length[low] + outlineLength(outline, t[low], at) - wanted;
    evaluateOutline(outline, at, out);
    const speed = Math.hypot(out[2], out[3]);
    const next = Math.min(Math.max(at - error / speed, t[low]), t[high]);
    if (Math.abs(next - at) <= 1e-13 * outline.period) return next;
    at = next;
  }
  return at;
}

/** Returns the length (mm) from the table's start to parameter `at` (wrapped into the table's turn). */
export function lengthAtParameter(table: ArcTable, at: number): number {
  const { t, outline } = table;
  const start = t[0];
  const wrapped = at - outline.period * Math.floor((at - start) / outline.period);
  let low = 0;
  let high = t.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (t[middle] <= wrapped) low = middle;
    else high = middle;
  }
  return table.length[low] + outlineLength(outline, t[low], wrapped);
}
