import { type ClosestTriangles, closestTriangles } from '../spatial/closest-triangle.ts';
import type { NominalTarget } from '../spatial/nominal-target.ts';

/** What is nearest to a list of places; arrays run parallel to it. */
export interface Nearest {
  /** Nearest nominal point, x0, y0, z0, … (mm). */
  point: Float64Array;
  /** Normal of its facet. */
  normal: Float64Array;
  /** 1 where that point lies at an end of the span. */
  border: Uint8Array;
  /** Nearest facet; −1 where it was not asked for. */
  triangle: Int32Array;
}

/** Writes what is nearest to the first `count` of `places` (nominal frame, mm). */
export type LookUp = (places: Float64Array, count: number, nearest: Nearest) => void;

export function emptyNearest(count: number): Nearest {
  return {
    point: new Float64Array(3 * count),
    normal: new Float64Array(3 * count),
    border: new Uint8Array(count),
    triangle: new Int32Array(count).fill(-1),
  };
}

/** Returns the exact look-up on the nominal's facets; places farther than `farthest` (mm) get a point at infinity. */
export function facetLookUp(target: NominalTarget, farthest = Infinity): LookUp {
  const { mesh, surface, tree } = target;
  const normals = facetNormals(mesh.positions, mesh.triangles);
  const low = surface.heights[0];
  const high = surface.heights[surface.heights.length - 1];
  const slack = 1e-6 * (high - low);
  let found: ClosestTriangles = closestBuffer(0);
  return (places, count, nearest) => {
    if (found.triangle.length < count) found = closestBuffer(count);
    closestTriangles(tree, places, null, 0, count, found, farthest);
    for (let i = 0; i < count; i++) {
      const facet = found.triangle[i];
      nearest.triangle[i] = facet;
      if (facet < 0) {
        nearest.point.fill(Infinity, 3 * i, 3 * i + 3);
        nearest.border[i] = 0;
        continue;
      }
      for (let c = 0; c < 3; c++) {
        nearest.point[3 * i + c] = found.point[3 * i + c];
        nearest.normal[3 * i + c] = normals[3 * facet + c];
      }
      const z = found.point[3 * i + 2];
      nearest.border[i] = z <= low + slack || z >= high - slack ? 1 : 0;
    }
  };
}

function closestBuffer(count: number): ClosestTriangles {
  return {
    triangle: new Int32Array(count),
    distance: new Float64Array(count),
    point: new Float64Array(3 * count),
  };
}

/** About how many cells the field has. */
const FIELD_CELLS = 40_000;
/** Room around the nominal, as a share of its size. */
const FIELD_MARGIN = 0.12;

/**
 * Returns a fast look-up: the nominal's nearest point is found once for the centres of a grid of cubes, and a place
 * gets the answer of its cube (the nearest cube when outside). Good to about a cube's edge, enough to tell thousands of
 * starting poses apart.
 */
export function fieldLookUp(target: NominalTarget, exact: LookUp, size: number): LookUp {
  const { min, max } = boundsOf(target.mesh.positions);
  const margin = FIELD_MARGIN * size;
  const extent = [0, 1, 2].map((c) => max[c] - min[c] + 2 * margin);
  const edge = Math.cbrt((extent[0] * extent[1] * extent[2]) / FIELD_CELLS);
  const [nx, ny, nz] = extent.map((e) => Math.max(1, Math.ceil(e / edge)));
  const [ox, oy, oz] = min.map((m) => m - margin);
  const cells = nx * ny * nz;
  const centres = new Float64Array(3 * cells);
  for (let i = 0; i < cells; i++) {
    centres[3 * i] = ox + ((i % nx) + 0.5) * edge;
    centres[3 * i + 1] = oy + ((Math.floor(i / nx) % ny) + 0.5) * edge;
    centres[3 * i + 2] = oz + (Math.floor(i / (nx * ny)) + 0.5) * edge;
  }
  const at = emptyNearest(cells);
  exact(centres, cells, at);
  const clamp = (value: number, n: number) => (value < 0 ? 0 : value >= n ? n - 1 : Math.floor(value));
  return (places, count, nearest) => {
    for (let i = 0; i < count; i++) {
      const ix = clamp((places[3 * i] - ox) / edge, nx);
      const iy = clamp((places[3 * i + 1] - oy) / edge, ny);
      const iz = clamp((places[3 * i + 2] - oz) / edge, nz);
      const cell = ix + nx * (iy + ny * iz);
      for (let c = 0; c < 3; c++) {
        nearest.point[3 * i + c] = at.point[3 * cell + c];
        nearest.normal[3 * i + c] = at.normal[3 * cell + c];
      }
      nearest.border[i] = at.border[cell];
    }
  };
}

/** Least and largest coordinates of points (mm). */
export function boundsOf(points: Float64Array): { min: number[]; max: number[] } {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i++) {
    const c = i % 3;
    if (points[i] < min[c]) min[c] = points[i];
    if (points[i] > max[c]) max[c] = points[i];
  }
  return { min, max };
}

function facetNormals(positions: Float64Array, triangles: Uint32Array): Float64Array {
  const normals = new Float64Array(triangles.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const e = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
    const f = [0, 1, 2].map((k) => positions[c + k] - positions[a + k]);
    const n = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]];
    const length = Math.hypot(n[0], n[1], n[2]) || 1;
    for (let k = 0; k < 3; k++) normals[t + k] = n[k] / length;
  }
  return normals;
}
