import { type BladeLaw, formAt, surfacePoint } from './blade.ts';
import { outlineSteps, pieceNodes } from './outline-grid.ts';
import { LEADING, type Piece, PRESSURE, SUCTION, TRAILING } from './section-form.ts';

/** A part of the surface without points: one piece of the outline, a range of `t` on it, a range of heights (mm). */
export interface Shadow {
  piece: Piece;
  fromT: number;
  toT: number;
  fromHeight: number;
  toHeight: number;
}

/** True when one of the shadows hides the place. */
export function isHidden(shadows: Shadow[], piece: number, t: number, z: number): boolean {
  for (const s of shadows) {
    if (piece === s.piece && t >= s.fromT && t <= s.toT && z >= s.fromHeight && z <= s.toHeight) return true;
  }
  return false;
}

/** Cells of the surface, column after column in a row of equal height, with a running sum of their weighted areas. */
export interface SurfaceCells {
  rows: number;
  piece: Piece[];
  from: number[];
  to: number[];
  sums: Float64Array;
}

const node = new Float64Array(7);

/** Weighted areas (mm²) of about 0.5 mm high cells; edges count `edgeDensity` times, cells in a shadow not at all. */
export function surfaceCells(
  blade: BladeLaw,
  from: number,
  to: number,
  edgeDensity: number,
  shadows: Shadow[],
): SurfaceCells {
  const steps = outlineSteps(160);
  const rows = Math.max(1, Math.round((to - from) * 2));
  const cells: SurfaceCells = { rows, piece: [], from: [], to: [], sums: new Float64Array(0) };
  for (const piece of [LEADING, PRESSURE, TRAILING, SUCTION] as const) {
    const nodes = pieceNodes(steps, piece);
    for (let i = 1; i < nodes.length; i++) {
      cells.piece.push(piece);
      cells.from.push(nodes[i - 1]);
      cells.to.push(nodes[i]);
    }
  }
  const columns = cells.piece.length;
  cells.sums = new Float64Array(rows * columns);
  const step = (to - from) / rows;
  let sum = 0;
  for (let row = 0; row < rows; row++) {
    const z = from + (row + 0.5) * step;
    const at = formAt(blade, z);
    for (let i = 0; i < columns; i++) {
      const piece = cells.piece[i];
      const t = (cells.from[i] + cells.to[i]) / 2;
      if (!isHidden(shadows, piece, t, z)) {
        surfacePoint(at, piece, t, z, node);
        const weight = piece === LEADING || piece === TRAILING ? edgeDensity : 1;
        sum += weight * node[6] * (cells.to[i] - cells.from[i]) * step;
      }
      cells.sums[row * columns + i] = sum;
    }
  }
  return cells;
}
