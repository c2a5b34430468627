import { checkDeclared } from './declared-size.ts';
import { type FormatInput, loadError } from './format.ts';
import { type PlyElement, type PlyHeader, SIZE_OF } from './ply-header.ts';

/** What is read from a PLY file: where the wanted properties stand in their elements. */
export interface PlyLayout {
  vertices: PlyElement;
  /** Elements of a mesh; null when the file is a cloud. */
  faces: PlyElement | null;
  /** Property numbers of x, y, z in the vertex element. */
  xyz: [number, number, number];
  /** Property numbers of nx, ny, nz; null when absent. */
  normal: [number, number, number] | null;
  /** Property number of the index list in the face element. */
  indices: number;
}

function leastBytes(element: PlyElement, text: boolean): number {
  if (text) return 2 * element.properties.length;
  return element.properties.reduce((sum, p) => sum + SIZE_OF[p.count ?? p.type], 0);
}

/**
 * Returns where the wanted properties stand and checks the counts against the file's size.
 *
 * @throws `load/format-unknown`, `load/no-points`, `load/absurd-count`, `load/truncated`, `load/too-large`
 */
export function plyLayout(input: FormatInput, header: PlyHeader): PlyLayout {
  const remedy = 'Export the file again as a PLY mesh or point cloud.';
  const vertices = header.elements.find((e) => e.name === 'vertex');
  const find = (...names: string[]): [number, number, number] | null => {
    const at = names.map((name) => vertices?.properties.findIndex((p) => p.name === name && p.count === null) ?? -1);
    return at.includes(-1) ? null : [at[0], at[1], at[2]];
  };
  const xyz = find('x', 'y', 'z');
  if (vertices === undefined || xyz === null) {
    throw loadError(input, 'load/format-unknown', 'The header declares no vertices with x, y and z.', null, remedy);
  }
  if (header.elements.some((e) => e.name === 'tristrips' && e.count > 0)) {
    throw loadError(input, 'load/format-unknown', 'The mesh is stored as triangle strips.', null, remedy);
  }
  let need = header.bodyOffset;
  for (const element of header.elements) {
    need += element.count * leastBytes(element, header.encoding === 'text');
    // The last line of a text file needs no line end.
    const least = header.encoding === 'text' ? need - 1 : need;
    if (element.properties.length > 0) checkDeclared(input, element.count, `"${element.name}" rows`, least, 'header');
  }
  if (vertices.count === 0) throw loadError(input, 'load/no-points', 'The header declares 0 vertices.', null, remedy);
  const faces = header.elements.find((e) => e.name === 'face' && e.count > 0) ?? null;
  const indices = faces?.properties.findIndex((p) => p.count !== null && /^vertex_(index|indices)$/.test(p.name)) ?? -1;
  if (faces !== null && indices < 0) {
    throw loadError(input, 'load/format-unknown', 'The faces have no list vertex_indices.', null, remedy);
  }
  return { vertices, faces, xyz, normal: find('nx', 'ny', 'nz'), indices };
}
