import { addPoint, cloudBuilder, finishCloud } from './cloud-builder.ts';
import { safeCapacity } from './declared-size.ts';
import { finishMesh } from './finish-mesh.ts';
import { type FormatInput, loadError, type ParsedShape } from './format.ts';
import type { PlyHeader } from './ply-header.ts';
import type { PlyLayout } from './ply-layout.ts';
import { indexStore, push3, pushTriangle } from './stores.ts';

/** Takes the vertices and faces of a PLY file, whatever their encoding. */
export interface PlyRows {
  /** Adds a vertex; `place` is its line or number. */
  vertex(x: number, y: number, z: number, place: number): void;
  /** Adds a vertex with its normal. */
  vertexWithNormal(x: number, y: number, z: number, nx: number, ny: number, nz: number, place: number): void;
  /** Adds a polygon of the first `count` indices, cut into a fan of triangles. */
  face(corners: ArrayLike<number>, count: number, place: number): void;
  end(): ParsedShape;
}

/** Returns an empty store for the rows; `unit` is what places count. */
export function plyRows(input: FormatInput, header: PlyHeader, layout: PlyLayout, unit: 'line' | 'point'): PlyRows {
  const isMesh = layout.faces !== null;
  const withNormals = !isMesh && layout.normal !== null;
  const builder = cloudBuilder(input, safeCapacity(input, layout.vertices.count), withNormals);
  const triangles = indexStore(isMesh ? 3 * safeCapacity(input, layout.faces?.count ?? 0) : 0);
  const vertexCount = layout.vertices.count;
  let found = 0;

  function vertex(x: number, y: number, z: number, place: number): void {
    if (addPoint(builder, x, y, z, place) || !isMesh) return;
    const message = 'A vertex of the mesh is not finite.';
    const code = unit === 'line' ? 'load/not-a-number' : 'load/non-finite';
    const at = unit === 'line' ? `line ${place}, column ${badAxis(x, y) + 1}` : `vertex ${place}`;
    throw loadError(input, code, message, at, 'Repair the mesh and export it again.');
  }

  /** Property number of the first coordinate that is not finite. */
  function badAxis(x: number, y: number): number {
    return layout.xyz[x - x !== 0 ? 0 : y - y !== 0 ? 1 : 2];
  }

  function vertexWithNormal(x: number, y: number, z: number, nx: number, ny: number, nz: number, place: number): void {
    if (addPoint(builder, x, y, z, place) && builder.normals !== null) push3(builder.normals, nx, ny, nz, input);
  }

  function face(corners: ArrayLike<number>, count: number, place: number): void {
    for (let k = 0; k < count; k++) {
      const index = corners[k];
      if (index >= 0 && index < vertexCount && index % 1 === 0) continue;
      const message = `A face uses vertex ${index}; the file has vertices 0 to ${vertexCount - 1}.`;
      const at = `${unit === 'line' ? 'line' : 'face'} ${place}`;
      throw loadError(input, 'load/face-index', message, at, 'The mesh is damaged: export it again.');
    }
    for (let k = 2; k < count; k++) {
      pushTriangle(triangles, corners[0], corners[k - 1], corners[k], input);
      found++;
    }
  }

  function end(): ParsedShape {
    const shape = isMesh ? finishMesh(input, builder.positions, triangles) : finishCloud(builder, unit);
    return { shape, unit: header.unit.unit, points: vertexCount, triangles: found };
  }

  return { vertex, vertexWithNormal, face, end };
}
