import { CamberwrightError } from '../error.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateCell, intervalOf, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import type { SectionCut } from './section-cut.ts';

/** A section this far (mm) beyond an end of the surface still is at that end. */
const AT_END = 1e-6;
const BISECTIONS = 60;

/**
 * Returns the height at which a cut passes each column of a surface (mm).
 * @throws plan/cut-outside-span where it passes a column above or below the surface, plan/cut-crosses-itself where it
 * passes one more than once
 */
export function cutHeights(surface: NominalSurface, cut: SectionCut): Float64Array {
  const { columns, heights } = surface;
  const place = new Float64Array(PLACE_SIZE);
  const gradient = new Float64Array(3);
  const levelAt = (column: number, z: number): number => {
    evaluateCell(surface, intervalOf(columns, columns[column]), intervalOf(heights, z), columns[column], z, place);
    return cut.level(place, gradient);
  };
  const top = heights.length - 1;
  const levels = Float64Array.from({ length: columns.length * heights.length }, (_, i) =>
    levelAt(i % columns.length, heights[Math.floor(i / columns.length)]),
  );
  const low = levels.subarray(0, columns.length);
  const high = levels.subarray(top * columns.length);
  refuseOutside(surface, cut, low, high);
  return Float64Array.from(columns, (_, c) => {
    let row = -1;
    for (let r = 0; r < top; r++) {
      const below = levels[r * columns.length + c] <= 0;
      if (below === levels[(r + 1) * columns.length + c] <= 0) continue;
      if (row >= 0) throw crossesItself(cut);
      row = r;
    }
    if (row < 0) return low[c] > 0 ? heights[0] : heights[top];
    let from = heights[row];
    let to = heights[row + 1];
    for (let i = 0; i < BISECTIONS; i++) {
      const middle = 0.5 * (from + to);
      if (levelAt(c, middle) <= 0) from = middle;
      else to = middle;
    }
    return 0.5 * (from + to);
  });
}

/** The error of a section whose outline is not a simple closed line. */
export function crossesItself(cut: SectionCut): CamberwrightError {
  return new CamberwrightError('plan/cut-crosses-itself', `Section "${cut.id}" crosses itself on this blade.`, {
    where: cut.record.text,
    remedy: 'Choose a section nearer to square with the span.',
  });
}

function refuseOutside(surface: NominalSurface, cut: SectionCut, low: Float64Array, high: Float64Array): void {
  const { heights } = surface;
  const under = low.reduce((a, b) => Math.max(a, b));
  const over = -high.reduce((a, b) => Math.min(a, b));
  if (under <= AT_END && over <= AT_END) return;
  const reach = `from height ${heights[0].toFixed(3)} to ${heights[heights.length - 1].toFixed(3)} mm`;
  const misses = low.every((level) => level > 0) || high.every((level) => level < 0);
  const move = (by: number, end: string): string => `Move it ${by.toFixed(3)} mm towards the ${end}`;
  const both = under > AT_END && over > AT_END;
  throw new CamberwrightError(
    'plan/cut-outside-span',
    `Section "${cut.id}" ${misses ? 'misses' : 'leaves'} the aerofoil, which reaches ${reach}.`,
    {
      where: cut.record.text,
      remedy: both
        ? 'Choose a section nearer to square with the span.'
        : `${under > AT_END ? move(under, 'tip') : move(over, 'root')} or more.`,
    },
  );
}
