import { type BladeLaw, formAt, surfacePoint } from './blade.ts';
import { type FieldAt, onEdge } from './blank-field.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from './section-form.ts';

const PIECES = [LEADING, PRESSURE, TRAILING, SUCTION] as const;
const node = new Float64Array(7);

/** Where a piece of the outline starts and ends. */
const fromT = (piece: Piece): number => (onEdge(piece) ? -1 : 0);

/** Rows that areas are summed over, rows that look for where to, and steps along a piece. */
const ROWS = 1000;
const LOOK_ROWS = 240;
const STEPS = 160;

/** Area of the finished blade (mm²) where the stock of a blank made on it, in its own frame, is below a level (mm). */
export function areaBelow(blade: BladeLaw, field: FieldAt, level: number): number {
  const [bottom, top] = heightsBelow(blade, field, level);
  const rise = (top - bottom) / ROWS;
  let area = 0;
  for (let row = 0; row < ROWS; row++) {
    const z = bottom + (row + 0.5) * rise;
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

/** Heights (mm) between which the stock comes below a level, a little more at both ends; 0 and 0 where it never does. */
function heightsBelow(blade: BladeLaw, field: FieldAt, level: number): [number, number] {
  const rise = blade.span / LOOK_ROWS;
  const rows: number[] = [];
  for (let row = 0; row < LOOK_ROWS; row++) {
    const isBelow = PIECES.some((piece) => {
      const step = (1 - fromT(piece)) / STEPS;
      for (let i = 0; i <= STEPS; i++)
        if (field(piece, fromT(piece) + i * step, (row + 0.5) * rise) < level) return true;
      return false;
    });
    if (isBelow) rows.push(row);
  }
  if (rows.length === 0) return [0, 0];
  return [Math.max(0, rows[0] - 1) * rise, Math.min(LOOK_ROWS, rows[rows.length - 1] + 2) * rise];
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
