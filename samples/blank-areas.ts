import { type BladeLaw, formAt, surfacePoint } from './blade.ts';
import { type FieldAt, onEdge } from './blank-field.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from './section-form.ts';

const PIECES = [LEADING, PRESSURE, TRAILING, SUCTION] as const;
const node = new Float64Array(7);

/** Where a piece of the outline starts and ends. */
const fromT = (piece: Piece): number => (onEdge(piece) ? -1 : 0);

/** Rows of heights and steps along a piece that areas are summed over. */
const ROWS = 960;
const STEPS = 40;

/** Area of the finished blade (mm²) where the stock of a blank made on it, in its own frame, is below a level (mm). */
export function areaBelow(blade: BladeLaw, field: FieldAt, level: number): number {
  const rise = blade.span / ROWS;
  let area = 0;
  for (let row = 0; row < ROWS; row++) {
    const z = (row + 0.5) * rise;
    const form = formAt(blade, z);
    for (const piece of PIECES) {
      const low = fromT(piece);
      const step = (1 - low) / STEPS;
      for (let i = 0; i < STEPS; i++) {
        const [a, b] = partBelow((t) => field(piece, t, z) - level, low + i * step, low + (i + 1) * step);
        if (b <= a) continue;
        surfacePoint(form, piece, (a + b) / 2, z, node);
        area += node[6] * (b - a) * rise;
      }
    }
  }
  return area;
}

/** The part of a short interval in which a function is negative, its border by bisection. */
function partBelow(f: (t: number) => number, from: number, to: number): [number, number] {
  const [first, last] = [f(from) < 0, f(to) < 0];
  if (first === last) return first ? [from, to] : [from, from];
  let [inside, outside] = first ? [from, to] : [to, from];
  for (let round = 0; round < 40; round++) {
    const middle = (inside + outside) / 2;
    if (f(middle) < 0) inside = middle;
    else outside = middle;
  }
  return first ? [from, inside] : [inside, to];
}
