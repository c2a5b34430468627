import { cross3, dot3, length3, subtract3, unit3, type Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../model/shape.ts';
import {
  FACING,
  type Sphere,
  staysNear,
  type TargetLine,
  type Touch,
  type TouchFinder,
  TUBE_SHARE,
} from './surface-touch.ts';
import { ballTouch } from './surface-touch-ball.ts';
import { type Facet, isInside } from './surface-touch-facet.ts';

/**
 * Returns the finder of a mesh: the crossing of line and triangles that lies nearest to the target, or with a ball the
 * place where it rests on them. Only triangles that face the target count. They are gathered in a tube about the line
 * and gathered anew when the line leaves it.
 * @param ball radius of the ball (mm); 0: a point
 */
export function meshTouch(mesh: Mesh, ball: number, sphere: Sphere): TouchFinder {
  const margin = TUBE_SHARE * sphere.radius;
  const all = Uint32Array.from({ length: mesh.triangles.length / 3 }, (_, k) => k);
  let axis: TargetLine | null = null;
  let tube = all;
  return (line) => {
    if (axis === null || !staysNear(line, axis, sphere, margin)) {
      axis = line;
      tube = trianglesNear(mesh, all, line, margin + ball);
    }
    const near = trianglesNear(mesh, tube, line, ball);
    const facets: Facet[] = [];
    for (const triangle of near) {
      const facet = facetOf(mesh, triangle);
      if (facet !== null) facets.push(facet);
    }
    return (ball > 0 ? ballTouch(facets, line, ball) : crossing(facets, line)) ?? beside(mesh, tube, line);
  };
}

/** Those of the triangles that may come within `reach` of a line: judged by one corner and the longer side from there. */
function trianglesNear(
  { positions, triangles }: Mesh,
  from: Uint32Array<ArrayBuffer>,
  { point, normal }: TargetLine,
  reach: number,
): Uint32Array<ArrayBuffer> {
  const [qx, qy, qz] = point;
  const [nx, ny, nz] = normal;
  const near = new Uint32Array(from.length);
  let count = 0;
  for (let k = 0; k < from.length; k++) {
    const t = 3 * from[k];
    const a = 3 * triangles[t];
    const x = positions[a] - qx;
    const y = positions[a + 1] - qy;
    const z = positions[a + 2] - qz;
    const along = x * nx + y * ny + z * nz;
    const square = x * x + y * y + z * z - along * along;
    const far =
      reach +
      Math.sqrt(
        Math.max(sideSquare(positions, a, 3 * triangles[t + 1]), sideSquare(positions, a, 3 * triangles[t + 2])),
      );
    if (square <= far * far) near[count++] = from[k];
  }
  return near.slice(0, count);
}

function sideSquare(positions: Float64Array, a: number, b: number): number {
  const x = positions[b] - positions[a];
  const y = positions[b + 1] - positions[a + 1];
  const z = positions[b + 2] - positions[a + 2];
  return x * x + y * y + z * z;
}

/** A triangle as a facet; null when it has no area. */
function facetOf({ positions, triangles }: Mesh, triangle: number): Facet | null {
  const corners = [0, 1, 2].map((k): Vec3 => {
    const i = 3 * triangles[3 * triangle + k];
    return [positions[i], positions[i + 1], positions[i + 2]];
  }) as Facet['corners'];
  const [u, v] = [subtract3(corners[1], corners[0]), subtract3(corners[2], corners[0])];
  const normal = unit3(cross3(u, v));
  return length3(normal) > 0 ? { corners, normal, side: Math.max(length3(u), length3(v)) } : null;
}

function crossing(facets: readonly Facet[], { point, normal }: TargetLine): Touch | null {
  let best = Infinity;
  for (const facet of facets) {
    const lean = dot3(facet.normal, normal);
    if (lean < FACING) continue;
    const along = dot3(facet.normal, subtract3(facet.corners[0], point)) / lean;
    if (Math.abs(along) >= Math.abs(best)) continue;
    const p: Vec3 = [point[0] + along * normal[0], point[1] + along * normal[1], point[2] + along * normal[2]];
    if (isInside(facet, p)) best = along;
  }
  return best === Infinity ? null : { along: best, meets: true, u: 0 };
}

/** The corner of a facing triangle nearest to the target, in place of a touch. */
function beside(mesh: Mesh, tube: Uint32Array, { point, normal }: TargetLine): Touch | null {
  let nearest = Infinity;
  let along = 0;
  for (const triangle of tube) {
    const first = 3 * mesh.triangles[3 * triangle];
    const off = Math.hypot(
      mesh.positions[first] - point[0],
      mesh.positions[first + 1] - point[1],
      mesh.positions[first + 2] - point[2],
    );
    const facet = facetOf(mesh, triangle);
    if (facet === null || off - facet.side >= nearest || dot3(facet.normal, normal) < FACING) continue;
    for (const corner of facet.corners) {
      const from = subtract3(corner, point);
      const distance = length3(from);
      if (distance >= nearest) continue;
      nearest = distance;
      along = dot3(from, normal);
    }
  }
  return nearest === Infinity ? null : { along, meets: false, u: 0 };
}
