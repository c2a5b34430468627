import type { Mesh } from '../src/model/shape.ts';
import { type BladeLaw, nominalBlade } from './blade.ts';
import { edgeShare, type FieldAt, sideShare } from './blank-field.ts';
import { SUCTION } from './section-form.ts';
import { makeMesh } from './tessellate.ts';

/** Material of a forged blank outside the finished blade, along the finished blade's normal, in closed form (mm). */
export interface StockField {
  /** Over the flanks at the root end, and change to the tip. */
  flank: number;
  flankTaper: number;
  /** Added on the pressure side and taken from the suction side; edges in between. */
  sideways: number;
  /** Added at the edges. */
  edges: number;
  /** A bell-shaped hollow on the suction side: fraction of the arc, height, widths and depth at its middle. */
  hollow: { t: number; height: number; widthT: number; widthHeight: number; depth: number };
  span: number;
}

/** 0.60 mm falling to 0.50, ± 0.05 by side, edges 0.25 more; a hollow that leaves −0.06 mm at t 0.6, height 72 mm. */
export const FORGED_STOCK: StockField = {
  flank: 0.6,
  flankTaper: -0.1,
  sideways: 0.05,
  edges: 0.25,
  hollow: { t: 0.6, height: 72, widthT: 0.1, widthHeight: 8, depth: 0.55 },
  span: 120,
};

/** The field of a forged blank over the finished blade: smooth round the whole outline. */
export function forgedField(field: StockField): FieldAt {
  const { hollow } = field;
  return (piece, t, height) => {
    const along = field.flank + (field.flankTaper * height) / field.span;
    const base = along + field.sideways * sideShare(piece, t) + field.edges * edgeShare(piece, t);
    if (piece !== SUCTION) return base;
    const distance = ((t - hollow.t) / hollow.widthT) ** 2 + ((height - hollow.height) / hollow.widthHeight) ** 2;
    return base - hollow.depth * Math.exp(-distance);
  };
}

export interface BlankOptions {
  /** The finished blade the stock is measured from. */
  blade?: BladeLaw;
  field?: StockField;
  rows?: number;
  columns?: number;
}

/** Mesh of a forged blank: every node on the finished blade's normal, outside by the stock field (mm, blade frame). */
export function makeBlank(options: BlankOptions = {}): Mesh {
  const { blade = nominalBlade(), field = FORGED_STOCK, rows = 181, columns = 320 } = options;
  return makeMesh({ blade, rows, columns, stock: forgedField(field) });
}
