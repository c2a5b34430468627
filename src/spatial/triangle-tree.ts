import { CamberwrightError } from '../error.ts';
import { BLOCK_SIZE, writeBlock } from './triangle-blocks.ts';
import { meshEdges } from './triangle-edges.ts';
import { completeAcrossNeedles } from './triangle-needles.ts';
import { pseudoNormals } from './triangle-normals.ts';
import { NODE_SIZE, partitionTriangles } from './triangle-partition.ts';

/**
 * Box hierarchy over the triangles of a mesh with all that a signed closest-point query reads: flat typed arrays only,
 * so it can be cloned, transferred or shared. Triangles stand in the order of the leaves.
 */
export interface TriangleTree {
  /** NODE_SIZE words a node: centre and half size of the first child, of the second child, two links, two unused. */
  nodes: Float32Array;
  /** The same memory as `nodes`; words 12 and 13 of a node: number of a child node, or a leaf (see `leafLink`). */
  links: Int32Array;
  /** Nodes on the longest way down. */
  depth: number;
  /** Twelve numbers a triangle, see `writeBlock` (mm, mm²). */
  blocks: Float64Array;
  /** Number of each triangle in the mesh. */
  ids: Uint32Array;
  /** Vertex numbers of the corners, three a triangle. */
  corners: Uint32Array;
  /** Edge numbers, three a triangle: first–second, first–third, second–third corner. */
  edges: Uint32Array;
  /** Pseudo-normals of vertices and edges, three numbers each, not of unit length. */
  vertexNormals: Float64Array;
  edgeNormals: Float64Array;
}

export interface TriangleTreeOptions {
  /** Put the arrays on shared memory, for worker threads. */
  shared?: boolean;
}

/**
 * Returns the box hierarchy of a mesh: binary, split by binned surface-area cost, four triangles a leaf, with
 * angle-weighted pseudo-normals (Bærentzen & Aanæs 2005). The same mesh gives the same tree.
 *
 * @param positions vertex coordinates x0, y0, z0, x1, … (mm).
 * @param triangles vertex numbers, three a triangle, counter-clockwise seen from outside.
 * @throws `shape/empty` without triangles, `shape/index` for a vertex that does not exist, `shape/not-finite` for a
 *   used coordinate that is not a number.
 */
export function buildTriangleTree(
  positions: Float64Array,
  triangles: Uint32Array,
  options: TriangleTreeOptions = {},
): TriangleTree {
  const n = Math.floor(triangles.length / 3);
  if (n === 0) {
    throw new CamberwrightError('shape/empty', 'The mesh has no triangles.', { remedy: 'Give a mesh with triangles.' });
  }
  const ids = new Uint32Array(n);
  const partition = partitionTriangles(triangleBoxes(positions, triangles, ids), ids);

  const allocate = options.shared ? (bytes: number) => new SharedArrayBuffer(bytes) : (b: number) => new ArrayBuffer(b);
  const nodeBuffer = allocate(4 * NODE_SIZE * partition.count);
  const nodes = new Float32Array(nodeBuffer);
  const links = new Int32Array(nodeBuffer);
  links.set(partition.links.subarray(0, links.length));

  const blocks = new Float64Array(allocate(8 * BLOCK_SIZE * n));
  const corners = new Uint32Array(allocate(12 * n));
  for (let k = 0; k < n; k++) {
    const from = 3 * ids[k];
    corners[3 * k] = triangles[from];
    corners[3 * k + 1] = triangles[from + 1];
    corners[3 * k + 2] = triangles[from + 2];
    writeBlock(blocks, k, positions, corners);
  }
  const vertices = Math.floor(positions.length / 3);
  const edges = meshEdges(corners, vertices);
  const normals = pseudoNormals(blocks, corners, vertices, edges);
  completeAcrossNeedles(blocks, corners, edges.ofTriangle, normals);
  const share = <T extends Uint32Array | Float64Array>(array: T): T => {
    if (!options.shared) return array;
    const copy = new (array.constructor as new (buffer: SharedArrayBuffer) => T)(
      new SharedArrayBuffer(array.byteLength),
    );
    copy.set(array);
    return copy;
  };
  return {
    nodes,
    links,
    depth: partition.depth,
    blocks,
    ids: share(ids),
    corners,
    edges: share(edges.ofTriangle),
    vertexNormals: share(normals.vertices),
    edgeNormals: share(normals.edges),
  };
}

/** Returns the boxes of the triangles rounded outwards to single precision, and numbers the triangles. */
function triangleBoxes(positions: Float64Array, triangles: Uint32Array, ids: Uint32Array): Float32Array {
  const boxes = new Float32Array(6 * ids.length);
  const vertices = Math.floor(positions.length / 3);
  for (let t = 0; t < ids.length; t++) {
    ids[t] = t;
    const a = triangles[3 * t];
    const b = triangles[3 * t + 1];
    const c = triangles[3 * t + 2];
    if (a >= vertices || b >= vertices || c >= vertices) throw badIndex(t);
    for (let axis = 0; axis < 3; axis++) {
      const p = positions[3 * a + axis];
      const q = positions[3 * b + axis];
      const r = positions[3 * c + axis];
      const low = Math.min(p, q, r);
      const high = Math.max(p, q, r);
      if (!(p - p + q - q + r - r === 0)) throw notFinite(t);
      const at = 6 * t + axis;
      boxes[at] = low;
      boxes[at + 3] = high;
      const f = boxes[at];
      const g = boxes[at + 3];
      if (f > low) boxes[at] = f - Math.abs(f) * 1.2e-7 - 1.5e-45;
      if (g < high) boxes[at + 3] = g + Math.abs(g) * 1.2e-7 + 1.5e-45;
    }
  }
  return boxes;
}

function badIndex(triangle: number): CamberwrightError {
  return new CamberwrightError('shape/index', 'A triangle names a vertex that does not exist.', {
    where: `triangle ${triangle}`,
    remedy: 'Export the mesh again; its vertex list is shorter than its triangles need.',
  });
}

function notFinite(triangle: number): CamberwrightError {
  return new CamberwrightError('shape/not-finite', 'A vertex coordinate is not a finite number.', {
    where: `triangle ${triangle}`,
    remedy: 'Repair or export the mesh again.',
  });
}
