import type { CarriedSection } from './carry-points.ts';
import type { OutlineGap } from './outline-gaps.ts';

/** Section points in counter-clockwise order with stand-ins in the gaps, so that a closed fit keeps its shape there. */
export interface FilledSection {
  /** x0, y0, x1, … (mm), counter-clockwise. */
  points: Float64Array;
  u: Float64Array;
  /** 1 for a stand-in, which is never measured. */
  standIn: Uint8Array;
}

/** Points at either end of a gap whose mean deviation the stand-ins start from. */
const END_POINTS = 12;

/**
 * Returns the carried points with stand-ins in the gaps: nominal points shifted along their normal by the deviation
 * found at the gap's ends, linear between them.
 */
export function fillGaps(section: CarriedSection, gaps: readonly OutlineGap[]): FilledSection {
  const { columns, orientation } = section.on.surface;
  if (gaps.length === 0 && orientation > 0) {
    return { points: section.points, u: section.u, standIn: new Uint8Array(section.u.length) };
  }
  const low = columns[0];
  const turn = columns[columns.length - 1] - low;
  const entries: { u: number; x: number; y: number; standIn: number }[] = [];
  for (let k = 0; k < section.u.length; k++) {
    entries.push({ u: section.u[k], x: section.points[2 * k], y: section.points[2 * k + 1], standIn: 0 });
  }
  const out = new Float64Array(2);
  for (const [from, to] of gaps) {
    const start = meanBeside(section, from, -1);
    const end = meanBeside(section, to > low + turn ? to - turn : to, 1);
    for (let c = 0; c + 1 < columns.length; c++) {
      for (const at of [columns[c], columns[c] + turn]) {
        if (at <= from || at >= to || (c > 0 && columns[c] === columns[c - 1])) continue;
        const deviation = start + ((end - start) * (at - from)) / (to - from);
        section.on.standIn(columns[c], deviation, out);
        entries.push({ u: columns[c], x: out[0], y: out[1], standIn: 1 });
      }
    }
  }
  entries.sort((a, b) => a.u - b.u);
  if (orientation < 0) entries.reverse();
  return {
    points: Float64Array.from(entries.flatMap((entry) => [entry.x, entry.y])),
    u: Float64Array.from(entries, (entry) => entry.u),
    standIn: Uint8Array.from(entries, (entry) => entry.standIn),
  };
}

/** Mean deviation of the points just before (−1) or from (+1) a position; 0 where there are none. */
function meanBeside(section: CarriedSection, at: number, way: -1 | 1): number {
  const { u, deviation } = section;
  if (u.length === 0) return 0;
  let i = 0;
  while (i < u.length && (way < 0 ? u[i] <= at : u[i] < at)) i++;
  let sum = 0;
  let count = 0;
  for (let k = 0; k < END_POINTS; k++) {
    const j = way < 0 ? i - 1 - k : i + k;
    if (j < 0 || j >= u.length) break;
    sum += deviation[j];
    count++;
  }
  return count > 0 ? sum / count : 0;
}
