import { arcTable, lengthAtParameter } from '../fit/outline-arc-table.ts';
import { median } from '../math/median.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateCell, intervalOf, PLACE_SIZE } from '../spatial/surface-evaluate.ts';
import type { SectionPath } from './section-path.ts';

/**
 * Lean of the surface at each point of a path: how far it moves along the path's outward normal over one millimetre of
 * height. The unit normal in space is (m, −lean) / √(1 + lean²) with m the normal in the plane.
 */
export type Lean = Float64Array;

/** Writes a surface place, the end cells' polynomials continued past the ends of the span. */
export function placeOnLoft(surface: NominalSurface, u: number, z: number, out: Float64Array): void {
  const { columns, heights } = surface;
  evaluateCell(surface, intervalOf(columns, u), intervalOf(heights, z), u, z, out);
}

/** Returns the position `u` of each point of a path on the surface lofted through it as row `row`. */
export function pathColumns(surface: NominalSurface, row: number, path: SectionPath): Float64Array {
  const { outline, edges, parameter } = path;
  const { columns } = surface;
  const width = columns.length;
  const along = surface.along.subarray(row * width, (row + 1) * width);
  const table = arcTable(outline, edges.leading);
  const toTrailing = lengthAtParameter(table, edges.trailing);
  const direction = edges.firstSide === 'pressure' ? 1 : -1;
  return Float64Array.from(parameter, (t) => {
    const ahead = lengthAtParameter(table, t);
    const length = direction * (ahead <= toTrailing ? ahead : ahead - table.perimeter);
    const c = intervalOf(along, length);
    const share = (length - along[c]) / (along[c + 1] - along[c]);
    return columns[c] + Math.min(Math.max(share, 0), 1) * (columns[c + 1] - columns[c]);
  });
}

/** Returns the lean of a path from the surface lofted through the paths, at positions `u` on its row. */
export function leanOfLoft(surface: NominalSurface, u: Float64Array, path: SectionPath): Lean {
  const place = new Float64Array(PLACE_SIZE);
  return Float64Array.from(u, (at, i) => {
    placeOnLoft(surface, at, path.height, place);
    return path.normal[2 * i] * place[6] + path.normal[2 * i + 1] * place[7];
  });
}

/**
 * Returns the lean of a path from vectors given with its points (surface normals or approach directions, either sign).
 * A point without a vector takes the one of the point before it along the path.
 * @param vectors x0, y0, z0, …, by the points' `source`; may be shorter than the points
 */
export function leanOfVectors(vectors: Float64Array, path: SectionPath): Lean {
  const lean = new Float64Array(path.parameter.length).fill(Number.NaN);
  for (const [i, at] of path.source.entries()) {
    if (3 * at + 2 >= vectors.length) continue;
    const across = path.normal[2 * i] * vectors[3 * at] + path.normal[2 * i + 1] * vectors[3 * at + 1];
    const flat = Math.hypot(vectors[3 * at], vectors[3 * at + 1]);
    if (flat > 0) lean[i] = (-Math.sign(across) * vectors[3 * at + 2]) / flat;
  }
  let known = lean.find((value) => !Number.isNaN(value)) ?? 0;
  return lean.map((value) => {
    if (!Number.isNaN(value)) known = value;
    return known;
  });
}

/**
 * Returns the middle one of the angles between given vectors, taken as lines without sense, and the normals in space of
 * a path (rad); null without vectors.
 */
export function vectorAngle(vectors: Float64Array, lean: Lean, path: SectionPath): number | null {
  const angles: number[] = [];
  for (const [i, at] of path.source.entries()) {
    if (3 * at + 2 >= vectors.length) continue;
    const [x, y, z] = vectors.subarray(3 * at, 3 * at + 3);
    const along = path.normal[2 * i] * x + path.normal[2 * i + 1] * y - lean[i] * z;
    angles.push(Math.acos(Math.min(1, Math.abs(along) / Math.hypot(1, lean[i]) / Math.hypot(x, y, z))));
  }
  return angles.length > 0 ? median(angles) : null;
}
