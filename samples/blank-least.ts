import { simplexSearch } from '../src/math/simplex-search.ts';
import type { Pose } from '../src/model/pose.ts';
import type { BladeLaw } from './blade.ts';
import { onEdge } from './blank-field.ts';
import { type ForgedBlank, stockOnBlade } from './blank-surface.ts';
import type { BladePlace } from './deviation.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from './section-form.ts';

const PIECES = [LEADING, PRESSURE, TRAILING, SUCTION] as const;

/** A value of the stock and where on the finished blade it is. */
export interface PlacedStock {
  stock: number;
  place: BladePlace;
}

/** Least stock near a place, by a search along the outline and the span that stays on the piece. */
export function leastNear(blank: ForgedBlank, finished: BladeLaw, near: BladePlace, pose?: Pose): PlacedStock {
  const { piece } = near;
  const inside = (t: number, height: number): BladePlace => ({
    piece,
    t: Math.min(1, Math.max(fromT(piece), t)),
    height: Math.min(finished.span, Math.max(0, height)),
  });
  const at = (p: Float64Array): number => stockOnBlade(blank, finished, inside(p[0], p[1]), pose);
  const found = simplexSearch(at, [near.t, near.height], [0.01, 0.4], 1e-10);
  return { stock: found.value, place: inside(found.at[0], found.at[1]) };
}

/** Where a piece of the outline starts; it ends at 1. */
const fromT = (piece: Piece): number => (onEdge(piece) ? -1 : 0);

/** Exact least stock of a blank over a finished blade in a placement: least of a grid, then a search about it. */
export function leastStock(blank: ForgedBlank, finished: BladeLaw, pose?: Pose): PlacedStock {
  let best: PlacedStock = { stock: Infinity, place: { piece: LEADING, t: 0, height: 0 } };
  for (const piece of PIECES)
    for (let t = fromT(piece); t < 1.001; t += onEdge(piece) ? 0.5 : 0.05)
      for (let height = 0; height <= finished.span; height += 3) {
        const stock = stockOnBlade(blank, finished, { piece, t: Math.min(1, t), height }, pose);
        if (stock < best.stock) best = { stock, place: { piece, t, height } };
      }
  return leastNear(blank, finished, best.place, pose);
}
