import { cellValueAt } from './relate/cell-points.ts';
import type { SurfaceMap } from './relate/surface-map.ts';
import type { NominalTarget } from './spatial/nominal-target.ts';
import { alongAt, evaluateSurface, PLACE_SIZE, placeNormal } from './spatial/surface-evaluate.ts';

/** The nominal's triangles with the deviation at every vertex, for drawing; single precision, not for measuring. */
export interface Drawing {
  /** x0, y0, z0, … (mm). */
  positions: Float32Array;
  normals: Float32Array;
  triangles: Uint32Array;
  /** Length from the leading edge (mm, suction side negative) and height (mm) of each vertex. */
  along: Float32Array;
  height: Float32Array;
  /** mm, positive outside nominal; NaN = not measured. */
  deviation: Float32Array;
}

/** Returns what the 3D view draws of a surface map. */
export function drawingOf(target: NominalTarget, map: SurfaceMap): Drawing {
  const { mesh, vertexU, vertexHeight, surface } = target;
  const count = vertexU.length;
  const normals = new Float32Array(count * 3);
  const along = new Float32Array(count);
  const deviation = new Float32Array(count);
  const place = new Float64Array(PLACE_SIZE);
  const normal = new Float64Array(3);
  for (let v = 0; v < count; v++) {
    evaluateSurface(surface, vertexU[v], vertexHeight[v], place);
    placeNormal(surface, place, normal);
    normals.set(normal, v * 3);
    along[v] = alongAt(surface, vertexU[v], vertexHeight[v]);
    deviation[v] = cellValueAt(map.cells, map.deviation, vertexU[v], vertexHeight[v]);
  }
  return {
    positions: Float32Array.from(mesh.positions),
    normals,
    triangles: mesh.triangles.slice(),
    along,
    height: Float32Array.from(vertexHeight),
    deviation,
  };
}
