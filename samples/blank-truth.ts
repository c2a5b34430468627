import { simplexSearch } from '../src/math/simplex-search.ts';
import { symmetricEigen } from '../src/math/symmetric-eigen.ts';
import type { Pose } from '../src/model/pose.ts';
import { type BladeLaw, formAt, surfacePoint } from './blade.ts';
import type { BalancedBlank } from './blank-cases.ts';
import { type FieldAt, onEdge } from './blank-field.ts';
import { type ForgedBlank, stockOnBlade } from './blank-surface.ts';
import { type BladePlace, nominalSurfacePoint } from './deviation.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from './section-form.ts';

const PIECES = [LEADING, PRESSURE, TRAILING, SUCTION] as const;
const node = new Float64Array(7);

/** Where a piece of the outline starts and ends. */
const fromT = (piece: Piece): number => (onEdge(piece) ? -1 : 0);

/** Row of a small motion of the blank at a place: what its shift x, y, z and its turn about the Z axis' middle add to the stock. */
export function motionRow(blade: BladeLaw, place: BladePlace): number[] {
  const [x, y, z, nx, ny, nz] = nominalSurfacePoint(blade, place);
  const up = z - blade.span / 2;
  return [nx, ny, nz, y * nz - up * ny, up * nx - x * nz, x * ny - y * nx];
}

/** How six spots hold a placement with Z locked. */
export interface Balance {
  /** Share of each spot in the hold, above 0; they sum to 1. */
  weights: number[];
  /** Least stock gained for each millimetre the blank stands farther up the span. */
  perMillimetreUp: number;
}

/**
 * The weights with which the spots' normals and torques cancel in the five motions that leave Z alone: positive weights
 * prove that no such motion adds stock at all spots (the dual of the greatest least stock). Null vector of the 6 × 5 rows.
 */
export function balanceOf(blank: BalancedBlank): Balance {
  const rows = blank.spots.map((spot) => motionRow(blank.blade, spot));
  const n = rows.length;
  const gram = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      for (let a = 0; a < 6; a++) if (a !== 2) gram[n * i + j] += rows[i][a] * rows[j][a] * (a < 3 ? 1 : 1e-3);
  const weights = [...symmetricEigen(gram, n).vectors.subarray(0, n)];
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const shares = weights.map((weight) => weight / total);
  return { weights: shares, perMillimetreUp: shares.reduce((sum, share, i) => sum + share * rows[i][2], 0) };
}

/** A value of the stock and where on the finished blade it is. */
export interface PlacedStock {
  stock: number;
  place: BladePlace;
}

/** Exact least stock of a blank over a finished blade in a placement: least of a grid, then a search about it. */
export function leastStock(blank: ForgedBlank, finished: BladeLaw, pose?: Pose): PlacedStock {
  const at = (piece: Piece, t: number, height: number): number => {
    const inside = Math.min(1, Math.max(fromT(piece), t));
    const level = Math.min(finished.span, Math.max(0, height));
    return stockOnBlade(blank, finished, { piece, t: inside, height: level }, pose);
  };
  let best: PlacedStock = { stock: Infinity, place: { piece: LEADING, t: 0, height: 0 } };
  for (const piece of PIECES)
    for (let t = fromT(piece); t < 1.001; t += onEdge(piece) ? 0.5 : 0.05)
      for (let height = 0; height <= finished.span; height += 3) {
        const stock = at(piece, t, height);
        if (stock < best.stock) best = { stock, place: { piece, t, height } };
      }
  const { piece, t, height } = best.place;
  const found = simplexSearch((p) => at(piece, p[0], p[1]), [t, height], [0.02, 1], 1e-10);
  return { stock: found.value, place: { piece, t: found.at[0], height: found.at[1] } };
}

/** Rows of heights and steps along a piece that areas are summed over. */
const ROWS = 1200;
const STEPS = 120;

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
