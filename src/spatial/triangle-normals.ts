import type { MeshEdges } from './triangle-edges.ts';

/** Outward directions at the vertices and edges of a mesh, for the sign of a distance. Not of unit length. */
export interface PseudoNormals {
  /** Face normals weighted by the angle at the vertex, three numbers a vertex. */
  vertices: Float64Array;
  /** Sum of the unit normals of the faces that meet at an edge, three numbers an edge. */
  edges: Float64Array;
}

/**
 * Returns the pseudo-normals of a mesh (Bærentzen & Aanæs 2005). The sign of (point − foot)·normal is that of the
 * distance for any closed mesh, at sharp edges and corners too. At a border only the faces that exist count. Triangles
 * without area add nothing.
 *
 * @param blocks twelve numbers a triangle, see TriangleTree.
 * @param corners vertex numbers in the order of the blocks.
 */
export function pseudoNormals(
  blocks: Float64Array,
  corners: Uint32Array,
  vertices: number,
  edges: MeshEdges,
): PseudoNormals {
  const atVertices = new Float64Array(3 * vertices);
  const atEdges = new Float64Array(3 * edges.count);
  const { ofTriangle } = edges;
  for (let k = 0, b = 0; k < corners.length; k += 3, b += 12) {
    const ux = blocks[b + 3];
    const uy = blocks[b + 4];
    const uz = blocks[b + 5];
    const vx = blocks[b + 6];
    const vy = blocks[b + 7];
    const vz = blocks[b + 8];
    const uv = blocks[b + 10];
    const vv = blocks[b + 11];
    if (vv === 0) continue;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    const s = 1 / size;
    const first = Math.atan2(size, uv);
    const second = Math.atan2(size, blocks[b + 9] - uv);
    addScaled(atVertices, 3 * corners[k], nx, ny, nz, s * first);
    addScaled(atVertices, 3 * corners[k + 1], nx, ny, nz, s * second);
    addScaled(atVertices, 3 * corners[k + 2], nx, ny, nz, s * (Math.PI - first - second));
    addScaled(atEdges, 3 * ofTriangle[k], nx, ny, nz, s);
    addScaled(atEdges, 3 * ofTriangle[k + 1], nx, ny, nz, s);
    addScaled(atEdges, 3 * ofTriangle[k + 2], nx, ny, nz, s);
  }
  return { vertices: atVertices, edges: atEdges };
}

function addScaled(to: Float64Array, at: number, x: number, y: number, z: number, scale: number): void {
  to[at] += x * scale;
  to[at + 1] += y * scale;
  to[at + 2] += z * scale;
}
