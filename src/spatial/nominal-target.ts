import type { Mesh } from '../model/shape.ts';
import type { NominalSurface } from '../model/surface.ts';
import { evaluateSurface, PLACE_SIZE } from './surface-evaluate.ts';
import { buildTriangleTree, type TriangleTree } from './triangle-tree.ts';

/** The nominal surface with the triangles that give every search its first guess. */
export interface NominalTarget {
  surface: NominalSurface;
  /** Tessellation of the smooth surface, without end caps; the trailing edge is a seam of doubled vertices. */
  mesh: Mesh;
  vertexU: Float64Array;
  vertexHeight: Float64Array;
  tree: TriangleTree;
}

/** Largest distance between neighbouring tessellation rows as a share of the span. */
const ROW_SHARE = 1 / 60;

/**
 * Returns the nominal surface with a triangle tree over its tessellation: every column of the surface, rows at the
 * sections and between them. The triangles only start searches; feet are found on the smooth surface.
 * @param shared puts the arrays on shared memory, for chunk workers
 */
export function makeNominalTarget(surface: NominalSurface, shared = false): NominalTarget {
  const { mesh, vertexU, vertexHeight } = tessellateSurface(surface, tessellationRows(surface), shared);
  return { surface, mesh, vertexU, vertexHeight, tree: buildTriangleTree(mesh.positions, mesh.triangles, { shared }) };
}

function tessellationRows(surface: NominalSurface): Float64Array {
  const { heights } = surface;
  const span = heights[heights.length - 1] - heights[0];
  const rows: number[] = [heights[0]];
  for (let i = 1; i < heights.length; i++) {
    const gap = heights[i] - heights[i - 1];
    const parts = Math.max(1, Math.ceil(gap / (span * ROW_SHARE)));
    for (let k = 1; k <= parts; k++) rows.push(heights[i - 1] + (gap * k) / parts);
  }
  return Float64Array.from(rows);
}

function doubles(count: number, shared: boolean): Float64Array {
  return shared ? new Float64Array(new SharedArrayBuffer(count * 8)) : new Float64Array(count);
}

/** Returns the surface's triangles at all its columns and the given heights, outward side counter-clockwise. */
export function tessellateSurface(
  surface: NominalSurface,
  rows: Float64Array,
  shared = false,
): { mesh: Mesh; vertexU: Float64Array; vertexHeight: Float64Array } {
  const columns = surface.columns;
  const width = columns.length;
  const positions = doubles(rows.length * width * 3, shared);
  const vertexU = doubles(rows.length * width, shared);
  const vertexHeight = doubles(rows.length * width, shared);
  const place = new Float64Array(PLACE_SIZE);
  for (let r = 0; r < rows.length; r++) {
    for (let c = 0; c < width; c++) {
      const v = r * width + c;
      evaluateSurface(surface, columns[c], rows[r], place);
      positions.set(place.subarray(0, 3), v * 3);
      vertexU[v] = columns[c];
      vertexHeight[v] = rows[r];
    }
  }
  const triangles: number[] = [];
  const flip = surface.orientation < 0;
  for (let r = 0; r + 1 < rows.length; r++) {
    for (let c = 0; c + 1 < width; c++) {
      if (columns[c + 1] <= columns[c]) continue;
      const a = r * width + c;
      const b = a + 1;
      const d = a + width;
      const e = d + 1;
      if (flip) triangles.push(a, e, b, a, d, e);
      else triangles.push(a, b, e, a, e, d);
    }
  }
  return { mesh: { kind: 'mesh', positions, triangles: Uint32Array.from(triangles) }, vertexU, vertexHeight };
}
